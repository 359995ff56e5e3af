#include "scene/mold/mold.hpp"

#include "tests/within.hpp"

#include <doctest/doctest.h>

using namespace evenclose;
using evenclose::test::within;

namespace {

SharedMesh levels(double low_z, double high_z) {
    return std::make_shared<const TriangleMesh>(
        TriangleMesh{{{0, 0, low_z}, {10, 0, low_z}, {0, 10, high_z}}, {{0, 1, 2}}});
}

PlyStack seven(double ply_mm, double glue_line_mm, double squeeze_mm) {
    return {std::vector<Ply>(7, Ply{ply_mm, "maple", Grain::along}), glue_line_mm, squeeze_mm};
}

} // namespace

TEST_CASE("9.1 seven plies: 1/16 in without glue lines, 1.5 mm with six of 0.1 [REFERENCE 9, arithmetic]") {
    CHECK(within(seven(1.5875, 0, 0).pressed_thickness_mm(), 11.1125, 1e-12));
    CHECK(within(seven(1.5, 0.1, 0).pressed_thickness_mm(), 11.1, 1e-12));
    CHECK(within(seven(1.5, 0.1, 0.3).pressed_thickness_mm(), 10.8, 1e-12));
    CHECK(within(seven(1.5, 0.1, 0.3).loose_thickness_mm(), 11.1, 1e-12)); // the squeeze comes with pressing
    CHECK(PlyStack{{}, 0.1, 0}.loose_thickness_mm() == 0);                 // no plies: no glue line either
    CHECK(within(PlyStack{{Ply{2, "", Grain::along}}, 0.1, 0}.loose_thickness_mm(), 2, 1e-12));
}

TEST_CASE("shut height: as stated, else as the halves are drawn, else blocks plus stack") {
    Mold mold;
    mold.stack = seven(1.5, 0.1, 0);
    mold.lower = {MeshHalf{}, "", levels(-40, 12), ""};
    mold.upper = {MeshHalf{}, "", levels(5, 70), ""};
    CHECK(within(mold.closed_shut_height_mm(), 110, 1e-12)); // the gap is drawn: the stack is not added
    mold.upper = {BlockHalf{{800, 250, 60}, {0, 0}}, "", levels(0, 60), ""};
    CHECK(within(mold.closed_shut_height_mm(), 52 + 60 + 11.1, 1e-12));
    mold.lower = {BlockHalf{{800, 250, 50}, {0, 0}}, "", nullptr, ""};
    CHECK(within(mold.closed_shut_height_mm(), 50 + 60 + 11.1, 1e-12));
    mold.shut_height_mm = 130;
    CHECK(mold.closed_shut_height_mm() == 130);
}
