#include "checks/phrase.hpp"
#include "checks/seat/seat.hpp"
#include "tests/checks/block_setup.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <algorithm>

namespace evenclose {

using test::BlockSetup;
using test::near;

namespace {

std::vector<Finding> seat_of(BlockSetup& blocks) {
    const Setup& setup = blocks.made();
    return check_seat(setup, assemble(setup));
}

SeatMeasure lower_seat(BlockSetup& blocks) {
    const Setup& setup = blocks.made();
    const Assembly assembly = assemble(setup);
    const auto lower = std::find_if(assembly.bodies.begin(), assembly.bodies.end(),
                                    [](const Body& body) { return body.part == Part::mold_lower; });
    return measure_seat(*lower, setup.press->platen, setup.limits.seat_flatness_mm);
}

SharedMesh shape(TriangleMesh mesh) { return std::make_shared<TriangleMesh>(std::move(mesh)); }

} // namespace

TEST_CASE("seat: flat blocks well inside the platen go, each half told once") {
    BlockSetup blocks;
    const std::vector<Finding> findings = seat_of(blocks);
    REQUIRE(findings.size() == 3);
    CHECK(worst_of(findings) == Verdict::go);
    const SeatMeasure seat = lower_seat(blocks);
    CHECK(near(seat.area_mm2, 700.0 * 200, 1e-6));
    CHECK(near(seat.share, 1, 1e-12));
    CHECK(near(seat.flatness_mm, 0, 1e-9));
    CHECK(near(seat.overhang_mm, -50, 1e-9)); // 300 deep platen, 200 deep mold
}

TEST_CASE("seat: how far it stands over which edge, and the shift that cures it") {
    BlockSetup blocks;
    blocks.setup.openings = {Opening{{}, {}, {170, 0}, 0}}; // 350 + 170 = 520, the platen ends at 500
    const std::vector<Finding> findings = seat_of(blocks);
    const auto over =
        std::find_if(findings.begin(), findings.end(), [](const Finding& f) { return f.verdict == Verdict::no_go; });
    REQUIRE(over != findings.end());
    CHECK(shown(over->title) == "block mold lower half stands 20 mm over the platen's edge at the right (+X)");
    CHECK(shown(over->remedy) == "Move the mold 20 mm the other way.");

    blocks.setup.openings = {Opening{{}, {}, {0, 0}, glm::radians(90.0)}}; // 700 long across a platen 300 deep
    const std::vector<Finding> turned = seat_of(blocks);
    CHECK(worst_of(turned) == Verdict::no_go);
    CHECK(shown(turned.front().remedy).find("400 mm too short") != std::string::npos);
}

TEST_CASE("seat: flatness of a bowed back is its spread about the best plane, tilt left out") {
    // A prism whose back is a shallow roof: ridge in the middle 0.6 deep over the 200 width, and no other deviation.
    const auto roof = [](double deep_mm) {
        return extruded_shape({{{-100, 0}, {0, deep_mm}, {100, 0}, {100, 80}, {-100, 80}}, {}}, -350, 350);
    };
    // extruded_shape runs along Z; lay it along X: (x, y, z) -> (z, x, y).
    const auto laid = [](TriangleMesh mesh) {
        for (Vec3& v : mesh.vertices_mm) {
            v = {v.z, v.x, v.y};
        }
        return mesh;
    };
    struct Row {
        double deep_mm, flatness_mm;
        Verdict verdict;
    };
    // Least squares plane of a symmetric roof of equal halves, corners counted once a triangle: the plane lies level
    // between edge and ridge, so the spread is the full depth.
    const Row rows[] = {{0.2, 0.2, Verdict::go}, {0.6, 0.6, Verdict::marginal}, {1.5, 1.5, Verdict::no_go}};
    for (const Row& row : rows) {
        CAPTURE(row.deep_mm);
        BlockSetup blocks;
        blocks.mold.lower.mesh = shape(laid(roof(row.deep_mm)));
        CHECK(near(lower_seat(blocks).flatness_mm, row.flatness_mm, 1e-6));
        const std::vector<Finding> findings = seat_of(blocks);
        CHECK(worst_of(findings) == row.verdict);
    }
}

TEST_CASE("seat: a half laid on its face bears with a few points only") {
    // A round forming face, radius 400 over the 200 width, laid face down: within 2 mm of its crest it is
    // 2 sqrt(400^2 - 398^2) = 79.9 wide; as a wedge of 90 degrees it is 4 wide, 2 % of 200.
    BlockSetup blocks;
    TriangleMesh wedge = extruded_shape({{{-100, 100}, {0, 0}, {100, 100}, {100, 180}, {-100, 180}}, {}}, -350, 350);
    for (Vec3& v : wedge.vertices_mm) {
        v = {v.z, v.x, v.y};
    }
    blocks.mold.lower.mesh = shape(std::move(wedge));
    const std::vector<Finding> findings = seat_of(blocks);
    CHECK(worst_of(findings) == Verdict::no_go);
    CHECK(findings.front().title.find("bears on the platen with only") != std::string::npos);
    CHECK(findings.front().remedy.find("flip") != std::string::npos);
}

TEST_CASE("seat: where the deck is pressed, two jacks in line and four in a rectangle") {
    struct Row {
        Vec2 at_mm;
        Verdict verdict;
        double value_mm;
    };
    const Row in_line[] = {
        {{0, 0}, Verdict::go, 400},
        {{390, 20}, Verdict::go, 10},
        {{0, 40}, Verdict::marginal, 40}, // beside the line by more than half a jack head (30)
        {{410, 0}, Verdict::no_go, -10},
    };
    for (const Row& row : in_line) {
        CAPTURE(row.at_mm.x);
        CAPTURE(row.at_mm.y);
        BlockSetup blocks;
        blocks.press.platen.size_mm = blocks.press.head.size_mm = {3000, 3000};
        blocks.setup.openings = {Opening{{}, {}, row.at_mm, 0}};
        const Finding pressed = seat_of(blocks).back();
        CHECK(pressed.verdict == row.verdict);
        CHECK(near(*pressed.value, row.value_mm, 1e-9));
    }
    BlockSetup blocks;
    blocks.press.jacks.push_back(blocks.press.jacks[0]);
    blocks.press.jacks.push_back(blocks.press.jacks[1]);
    for (std::size_t i = 0; i < 4; ++i) {
        blocks.press.jacks[i].foot_mm.y = i < 2 ? -100 : 100;
        blocks.press.jacks[i].name = "jack " + std::to_string(i + 1);
    }
    blocks.setup.openings = {Opening{{}, {}, {0, 40}, 0}};
    const Finding inside = seat_of(blocks).back();
    CHECK(inside.verdict == Verdict::go);
    CHECK(near(*inside.value, 60, 1e-9));
}

} // namespace evenclose
