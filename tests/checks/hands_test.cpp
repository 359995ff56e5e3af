#include "checks/hands/hands.hpp"
#include "checks/phrase.hpp"
#include "tests/checks/block_setup.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <string>

namespace evenclose {

using test::BlockSetup;
using test::near;

namespace {

std::vector<Finding> hands_of(BlockSetup& blocks) {
    const Setup& setup = blocks.made();
    Progress progress;
    const Assembly assembly = assemble(setup);
    return judge(measure_hands(assembly, progress), assembly);
}

std::string names_of(const std::vector<BodyPart>& parts) {
    std::string text;
    for (const BodyPart& part : parts) {
        text += std::string(text.empty() ? "" : " ") + part.name;
    }
    return text;
}

} // namespace

TEST_CASE("12 the least gaps by body part are those of ISO 13854 [accident insurer's page, REFERENCE 12]") {
    struct Row {
        const char* part;
        double mm;
    };
    const Row rows[] = {{"body", 500}, {"head", 300}, {"leg", 180}, {"foot", 120},
                        {"arm", 120},  {"hand", 100}, {"toes", 50}, {"finger", 25}};
    REQUIRE(body_parts().size() == std::size(rows));
    for (std::size_t i = 0; i < std::size(rows); ++i) {
        CHECK(std::string(body_parts()[i].name) == rows[i].part);
        CHECK(body_parts()[i].least_gap_mm == rows[i].mm);
    }
}

TEST_CASE("hands: what a gap can catch, at and beside its limits") {
    struct Row {
        double open, closed;
        const char* caught;
    };
    const Row rows[] = {
        {600, 0, "body head leg foot arm hand toes finger"}, // "a closing gap passes through every one of them"
        {130, 18, "leg foot arm hand toes finger"},
        {130, 100, "leg foot arm"},
        {130, 180, ""},
        {40, 24.9, "hand toes finger"}, // a flat hand goes into it
        {40, 25, "hand toes"},
        {24, 0, "toes finger"},
        {7, 0, ""},
        {700, 600, ""},
        {80, 80, ""}, // it does not close
    };
    for (const Row& row : rows) {
        CAPTURE(row.open);
        CAPTURE(row.closed);
        ClosingGap gap;
        gap.open_mm = row.open;
        gap.closed_mm = row.closed;
        CHECK(names_of(gap.can_catch()) == row.caught);
    }
}

TEST_CASE("hands: the opening closes, and a rail over the platen's edge, never go, and never said to be safe") {
    BlockSetup blocks;
    // Platen face at 340, its edge at y -150, risen by 100; the rail hangs 30 over it at the end: 130 to 30.
    blocks.press.members = {{"front rail", {-500, -145, 490}, {500, -145, 490}, TimberSection{20, 40}, 0, "pine"}};
    const std::vector<Finding> findings = hands_of(blocks);
    REQUIRE(findings.size() >= 3);
    for (const Finding& finding : findings) {
        CHECK(finding.verdict != Verdict::go);
    }
    CHECK(shown(findings[0].title).find("The opening between mold halves and platens closes from") == 0);
    CHECK(shown(findings[0].title).find("hand") != std::string::npos);
    CHECK(findings[0].remedy.find("Hands out before it moves.") == 0);
    const auto rail = std::find_if(findings.begin(), findings.end(), [](const Finding& f) {
        return std::find(f.bodies.begin(), f.bodies.end(), "front rail") != f.bodies.end();
    });
    REQUIRE(rail != findings.end());
    CHECK(rail->verdict == Verdict::marginal);
    CHECK(rail->bodies[0] == "platen");
    CHECK(shown(rail->title).find("it can catch leg, foot, arm, hand and toes") != std::string::npos);
    CHECK(near(*rail->value, 30, 0.6)); // told a little less than it is, never more
    CHECK(*rail->value <= 30);
    CHECK(rail->travel->to.mm == doctest::Approx(100));
    CHECK(findings.back().verdict == Verdict::not_checked);
}

TEST_CASE("hands: a post beside the platen, past which it slides at one distance, does not close") {
    BlockSetup blocks;
    blocks.press.members = {
        {"post", {540, 0, 0}, {540, 0, 700}, TimberSection{60, 60}, 0, "pine"}}; // 10 from the platen
    for (const Finding& finding : hands_of(blocks)) {
        CAPTURE(shown(finding.title));
        CHECK(std::find(finding.bodies.begin(), finding.bodies.end(), "post") == finding.bodies.end());
    }
}

TEST_CASE("hands: a beam behind the head is out of the way of what rises under it, one beside the head is not") {
    BlockSetup blocks;
    blocks.press.members = {{"behind", {-500, 0, 680}, {500, 0, 680}, TimberSection{60, 60}, 0, "pine"},
                            {"beside", {-500, -160, 460}, {500, -160, 460}, TimberSection{20, 20}, 0, "pine"}};
    bool beside = false;
    for (const Finding& finding : hands_of(blocks)) {
        CHECK(std::find(finding.bodies.begin(), finding.bodies.end(), "behind") == finding.bodies.end());
        beside = beside || std::find(finding.bodies.begin(), finding.bodies.end(), "beside") != finding.bodies.end();
    }
    CHECK(beside);
}

TEST_CASE("hands: what lifts the platen from below cannot come at the head above it, nor a sleeve let into it") {
    BlockSetup blocks;
    blocks.press.guides = {{"left guide", {-560, 0}, 20, 20.5, 40, 60, 0, 100, 590}};
    blocks.press.members = {{"head beam", {-700, 0, 680}, {700, 0, 680}, TimberSection{60, 60}, 0, "pine"}};
    for (const Finding& finding : hands_of(blocks)) {
        CAPTURE(shown(finding.title));
        if (finding.verdict == Verdict::not_checked) {
            continue;
        }
        for (const std::string& name : finding.bodies) {
            CHECK(name.find("screw") == std::string::npos);
            CHECK(name.find("sleeve") == std::string::npos);
        }
    }
}

TEST_CASE("hands: a mesh that cannot be used is said") {
    BlockSetup blocks;
    TriangleMesh broken = box_shape({-350, -100, 90}, {350, 100, 160});
    broken.vertices_mm[0].x = std::numeric_limits<double>::infinity();
    blocks.mold.upper.mesh = std::make_shared<TriangleMesh>(broken);
    CHECK(hands_of(blocks).back().why.find("block mold upper half") != std::string::npos);
}

} // namespace evenclose
