#include "checks/load_in/load_in.hpp"
#include "checks/phrase.hpp"
#include "tests/checks/block_setup.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <stdexcept>

namespace evenclose {

using test::BlockSetup;
using test::near;

namespace {

std::vector<Finding> load_in_of(BlockSetup& blocks) {
    const Setup& setup = blocks.made();
    Progress progress;
    return check_load_in(setup, assemble(setup), progress);
}

Member post(const char* name, double x, double y) {
    return {name, {x, y, 0}, {x, y, 700}, TimberSection{60, 60}, 0, "pine"};
}

/// Mold 700 wide; posts of 60 at the corners, `between_mm` from post to post.
BlockSetup with_posts(double between_mm, PressSide from = PressSide::front) {
    BlockSetup blocks;
    const double x = 0.5 * between_mm + 30;
    blocks.press.members = {post("front left post", -x, -220), post("front right post", x, -220),
                            post("back left post", -x, 220), post("back right post", x, 220)};
    blocks.press.load_from = from;
    blocks.press.platen.size_mm = {640, 300}; // out of the way
    blocks.press.head.size_mm = {640, 300};
    return blocks;
}

bool names(const Finding& finding, const char* body) {
    return std::find(finding.bodies.begin(), finding.bodies.end(), body) != finding.bodies.end();
}

} // namespace

TEST_CASE("load-in: between posts farther apart than the mold is wide it goes, with half the difference on a side") {
    struct Row {
        double between_mm;
        Verdict verdict;
        double value_mm;
    };
    const Row rows[] = {{720, Verdict::go, 10}, {711, Verdict::go, 5.5}, {708, Verdict::marginal, 4}};
    for (const Row& row : rows) {
        CAPTURE(row.between_mm);
        BlockSetup blocks = with_posts(row.between_mm);
        const std::vector<Finding> findings = load_in_of(blocks);
        REQUIRE(findings.size() == 1);
        CHECK(findings[0].verdict == row.verdict);
        CHECK(*findings[0].value <= row.value_mm + 1e-6); // a certified lower bound
        CHECK(*findings[0].value > row.value_mm - 0.06);
        CHECK(shown(findings[0].title).find("post") != std::string::npos);
    }
}

TEST_CASE("load-in: a mold too wide between the posts: the posts are named and the millimetres missing") {
    BlockSetup blocks = with_posts(688);
    const std::vector<Finding> findings = load_in_of(blocks);
    REQUIRE(findings.size() == 1);
    const Finding& finding = findings[0];
    CHECK(finding.verdict == Verdict::no_go);
    CAPTURE(*finding.margin);
    CHECK(near(*finding.margin, -12, 0.1));
    CHECK(names(finding, "front left post"));
    CHECK(names(finding, "front right post"));
    CHECK(shown(finding.title).find("too wide to pass between front left post and front right post") !=
          std::string::npos);
    CHECK(shown(finding.title).find("block mold with its flat stack is 12") == 0);
    CHECK(near(finding.at_mm->y, -250, 20)); // at the front posts, in the world
    CAPTURE(finding.at_mm->x);
    CHECK(near(std::abs(finding.at_mm->x), 374, 31)); // somewhere in the post
    // From the sides it goes in: nothing stands there.
    CHECK(finding.remedy.find("From the left or the right it would go in") != std::string::npos);
    for (const PressSide side : {PressSide::left, PressSide::right}) {
        BlockSetup turned = with_posts(688, side);
        CHECK(load_in_of(turned)[0].verdict == Verdict::go);
    }
    BlockSetup behind = with_posts(688, PressSide::back);
    CHECK(names(load_in_of(behind)[0], "back right post"));
}

TEST_CASE("load-in: one post in the way, and the shift that it names frees the way") {
    BlockSetup blocks = with_posts(720);
    blocks.press.members[0].a_mm.x += 17; // the left one stands 7 in the way
    blocks.press.members[0].b_mm.x += 17;
    blocks.press.members.push_back(post("inner left post", -372, -160)); // and one behind it 8
    const std::vector<Finding> findings = load_in_of(blocks);
    REQUIRE(findings.size() == 1);
    CHECK(findings[0].verdict == Verdict::no_go);
    CHECK(names(findings[0], "inner left post")); // the worse of both, and the shift frees both
    CAPTURE(*findings[0].margin);
    CHECK(near(*findings[0].margin, -8, 0.2));
    CHECK(shown(findings[0].remedy).find("to the right (+X): tried") != std::string::npos);
    blocks.setup.openings.front().at_mm.x = -*findings[0].margin;
    CHECK(load_in_of(blocks)[0].verdict == Verdict::marginal);
}

TEST_CASE("load-in: the flat stack counts: a sandwich too tall for the head, and how much is missing") {
    BlockSetup blocks;
    blocks.press.load_from = PressSide::left;
    CHECK(load_in_of(blocks)[0].verdict == Verdict::go); // 80 + 10 + 70 in 260
    blocks.press.head_underside_z_mm = 504;              // 164: 4 over it
    const Finding close = load_in_of(blocks)[0];
    CHECK(close.verdict == Verdict::marginal);
    CHECK(near(*close.value, 4, 0.06));
    CHECK(names(close, "head"));
    // Faces that reach into each other: closed 160 high, but the flat stack keeps them apart.
    blocks.half(blocks.mold.lower, {-350, -100, 0}, {350, 100, 100});
    const Finding tall = load_in_of(blocks)[0];
    CHECK(tall.verdict == Verdict::no_go);
    CHECK(near(*tall.margin, -16, 0.2)); // 100 + 10 + 70 = 180 in 164
    CHECK(shown(tall.title).find("too tall to pass head") != std::string::npos);
}

TEST_CASE("load-in by halves: each goes in by itself, the upper one under the head, then the lower, then the stack") {
    BlockSetup blocks;
    blocks.press.load_from = PressSide::front;
    blocks.mold.loading = Loading::halves;
    const std::vector<Finding> findings = load_in_of(blocks);
    REQUIRE(findings.size() == 3);
    CHECK(shown(findings[0].title).find("block mold upper half slides in from the front") == 0);
    CHECK(shown(findings[1].title).find("block mold lower half slides in") == 0);
    CHECK(shown(findings[2].title).find("ply stack slides in") == 0);
    for (const Finding& finding : findings) {
        CHECK(finding.verdict == Verdict::go);
    }
    // A rail at the height of the upper half bars that alone.
    blocks.press.members = {test::bolt("lamp rail", {-500, -200, 540}, {500, -200, 540}, 20)};
    const std::vector<Finding> barred = load_in_of(blocks);
    CHECK(barred[0].verdict == Verdict::no_go);
    CHECK(names(barred[0], "lamp rail"));
    CHECK(barred[1].verdict == Verdict::go);
    // Between the halves there is no room for the flat stack.
    blocks.press.members.clear();
    blocks.press.head_underside_z_mm = 340 + 80 + 70 + 4;
    const std::vector<Finding> shut = load_in_of(blocks);
    REQUIRE(shut.size() == 3);
    CHECK(shut[0].verdict == Verdict::no_go);
    CHECK(names(shut[0], "ply stack"));
    CHECK(near(*shut[0].margin, -6, 0.2));
}

TEST_CASE("load-in: bolts, jack heads and guides beside the platen are seen too, a spoiled mesh is said, not passed") {
    BlockSetup blocks;
    blocks.press.load_from = PressSide::right;
    Guide guide{"right guide", {560, 0}, 30, 30.5, 50, 60, 0, 100, 590};
    blocks.press.guides = {guide};
    const std::vector<Finding> barred = load_in_of(blocks);
    CHECK(barred[0].verdict == Verdict::no_go);
    CHECK(names(barred[0], "right guide post"));
    CHECK(barred[0].remedy.find("front") != std::string::npos); // from there it would go

    BlockSetup spoiled;
    spoiled.press.load_from = PressSide::front;
    TriangleMesh broken = *std::make_shared<TriangleMesh>(box_shape({-350, -100, 90}, {350, 100, 160}));
    broken.vertices_mm[0].x = std::numeric_limits<double>::quiet_NaN();
    spoiled.mold.upper.mesh = std::make_shared<TriangleMesh>(broken);
    bool said = false;
    for (const Finding& finding : load_in_of(spoiled)) {
        CHECK(finding.verdict != Verdict::go);
        said = said || finding.verdict == Verdict::not_checked;
    }
    CHECK(said);
}

TEST_CASE("load-in: without \"load_from\" it is not checked, a cancelled one says so") {
    BlockSetup blocks;
    const std::vector<Finding> findings = load_in_of(blocks);
    REQUIRE(findings.size() == 1);
    CHECK(findings[0].verdict == Verdict::not_checked);
    CHECK(findings[0].remedy.find("load_from") != std::string::npos);
    blocks.press.load_from = PressSide::front;
    const Setup& setup = blocks.made();
    Progress progress;
    progress.cancel();
    for (const Finding& finding : check_load_in(setup, assemble(setup), progress)) {
        CHECK(finding.verdict == Verdict::not_checked);
    }
}

} // namespace evenclose
