// What a hand means: corners and edges near the cursor, the surface under it; never what is hidden or taken away.
#include "viewer/render/snap.hpp"

#include "scene/mesh/shapes.hpp"
#include "tests/viewer/app/small_press.hpp"
#include "tests/within.hpp"
#include "viewer/render/view.hpp"

#include <doctest/doctest.h>
#include <glm/geometric.hpp>

#include <cmath>
#include <memory>

using namespace evenclose;
using namespace evenclose::test;

namespace {

constexpr int kWidth = 600, kHeight = 400;

/// A box 200 x 100 x 60 at the origin, seen from the front right and above.
Frame box_frame(bool parallel) {
    Frame frame;
    frame.camera = {{500, -900, 400}, {0, 0, 0}, {0, 0, 1}, 0.4, parallel};
    frame.bodies = {{box_mesh({200, 100, 60}), Pose{}, {0.6F, 0.6F, 0.6F}, Emphasis::plain, 7}};
    return frame;
}

std::optional<Snapped> snap_near(const Frame& frame, const Vec3& place, Vec2 off_px, double near_px = 9) {
    const auto at = pixel_of(frame.camera, kWidth, kHeight, place);
    REQUIRE(at);
    return snap_pick(frame, kWidth, kHeight, at->x + off_px.x, at->y + off_px.y, near_px);
}

} // namespace

TEST_CASE("a corner near the cursor is taken exactly, from within the body's outline and from beside it") {
    for (const bool parallel : {false, true}) {
        const Frame frame = box_frame(parallel);
        for (const Vec3& corner : {Vec3{100, -50, 30}, Vec3{-100, -50, 30}, Vec3{100, 50, 30}, Vec3{100, -50, -30}}) {
            for (const Vec2& off : {Vec2{0, 0}, Vec2{5, 3}, Vec2{-4, 5}, Vec2{0, -7}}) {
                const auto snapped = snap_near(frame, corner, off);
                REQUIRE(snapped);
                CHECK(snapped->to == Snapped::To::corner);
                CHECK(snapped->body == 7);
                CHECK(glm::length(snapped->at_mm - corner) < 1e-5);
            }
        }
        // The corner behind the box is hidden.
        const auto behind = snap_near(frame, {-100, 50, -30}, {0, 0});
        CHECK(
            (!behind || behind->to == Snapped::To::surface || glm::length(behind->at_mm - Vec3{-100, 50, -30}) > 1.0));
    }
}

TEST_CASE("along an edge the place nearest to the cursor is taken, in perspective too") {
    for (const bool parallel : {false, true}) {
        const Frame frame = box_frame(parallel);
        for (const double share : {0.35, 0.5, 0.7}) { // nearer to its end the corner is meant
            // The upper front edge, and the upper right one, which runs away from the eye.
            for (const auto& [from, to] : {std::pair{Vec3{-100, -50, 30}, Vec3{100, -50, 30}},
                                           std::pair{Vec3{100, -50, 30}, Vec3{100, 50, 30}}}) {
                const Vec3 wanted = from + share * (to - from);
                const auto snapped = snap_near(frame, wanted, {0, 0});
                REQUIRE(snapped);
                CHECK(snapped->to == Snapped::To::edge);
                CHECK(glm::length(snapped->at_mm - wanted) < 0.01);
                const auto beside = snap_near(frame, wanted, {0, 4});
                REQUIRE(beside);
                CHECK(beside->to == Snapped::To::edge);
                // On the edge, wherever along it.
                CHECK(near(glm::length(glm::cross(beside->at_mm - from, glm::normalize(to - from))), 0, 1e-5));
            }
        }
    }
}

TEST_CASE("away from corners and edges the surface is taken, with its normal") {
    const Frame frame = box_frame(false);
    struct Row {
        Vec3 place, normal;
    };
    for (const Row& row : {Row{{0, 0, 30}, {0, 0, 1}}, Row{{10, -50, 0}, {0, -1, 0}}, Row{{100, 5, 0}, {1, 0, 0}}}) {
        const auto snapped = snap_near(frame, row.place, {0, 0});
        REQUIRE(snapped);
        CHECK(snapped->to == Snapped::To::surface);
        CHECK(glm::length(snapped->at_mm - row.place) < 0.01);
        CHECK(glm::length(snapped->normal - row.normal) < 1e-9);
    }
    // A face is meant even beside its corner when nothing but surfaces is asked for.
    const auto face = snap_near(frame, {97, -47, 30}, {0, 0}, 0);
    REQUIRE(face);
    CHECK(face->to == Snapped::To::surface);
    CHECK(!snap_pick(frame, kWidth, kHeight, 1, 1, 9));
    CHECK(!snap_pick(frame, kWidth, kHeight, std::nan(""), 1, 9));
    Frame blind = frame;
    blind.camera.eye_mm = blind.camera.target_mm;
    CHECK(!snap_pick(blind, kWidth, kHeight, 100, 100, 9));
}

TEST_CASE("on a section its face, its border and where an edge meets it are taken, what was cut away is not") {
    Frame frame = box_frame(false);
    frame.section = SectionPlane{{20, 0, 0}, {1, 0, 0}};
    const auto gone = snap_near(frame, {100, -50, 30}, {0, 0});
    CHECK((!gone || glm::length(gone->at_mm - Vec3{100, -50, 30}) > 1.0));
    const auto corner = snap_near(frame, {20, -50, 30}, {2, 2}); // of the cut face
    REQUIRE(corner);
    CHECK(corner->to == Snapped::To::corner);
    CHECK(glm::length(corner->at_mm - Vec3{20, -50, 30}) < 1e-4);
    const auto border = snap_near(frame, {20, 10, 30}, {1, 1});
    REQUIRE(border);
    CHECK(border->to == Snapped::To::edge);
    CHECK(near(border->at_mm.x, 20, 1e-4));
    CHECK(near(border->at_mm.z, 30, 1e-4));
    const auto face = snap_near(frame, {20, 5, 3}, {0, 0});
    REQUIRE(face);
    CHECK(face->to == Snapped::To::surface);
    CHECK(glm::length(face->normal - Vec3{1, 0, 0}) < 1e-9);
}
