#include "scene/press/fittings_solid.hpp"

#include "tests/scene/press/closed_mesh.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>
#include <glm/geometric.hpp>

#include <numbers>
#include <stdexcept>

using namespace evenclose;
using evenclose::test::closed_and_clean;
using evenclose::test::within;

namespace {

bool near(const Vec3& a, const Vec3& b) { return glm::distance(a, b) <= 1e-9; }

Jack jack() {
    Jack jack;
    jack.name = "left";
    jack.foot_mm = {-400, 10, 60};
    jack.closed_height_mm = 240;
    jack.parked_mm = 15;
    jack.stroke_mm = 180;
    return jack;
}

ScrewJack screw_jack() { return {{.lead_mm = 6}, 70, 32, 50, 12}; }

} // namespace

TEST_CASE("a plate lies with its underside at the height given") {
    Platen platen;
    platen.centre_mm = {10, -20};
    platen.size_mm = {900, 300};
    platen.thickness_mm = 18;
    const TriangleMesh mesh = plate_solid(platen, 315);
    CHECK(closed_and_clean(mesh));
    CHECK(within(signed_volume_mm3(mesh), 900.0 * 300 * 18, 1e-12));
    CHECK(near(bounds_of(mesh).low_mm, {-440, -170, 315}));
    CHECK(near(bounds_of(mesh).high_mm, {460, 130, 333}));
    platen.thickness_mm = 0;
    CHECK_THROWS_AS((void)plate_solid(platen, 315), std::invalid_argument);
}

TEST_CASE("a screw jack: the head lies at closed height plus what it is parked at, the body stays below it") {
    const TriangleMesh body = jack_body_solid(jack(), screw_jack());
    const TriangleMesh screw = jack_screw_solid(jack(), screw_jack());
    CHECK(closed_and_clean(body));
    CHECK(closed_and_clean(screw));
    CHECK(near(bounds_of(body).low_mm, {-435, -25, 60}));
    CHECK(near(bounds_of(body).high_mm, {-365, 45, 60 + 240 - 12}));
    CHECK(near(bounds_of(screw).low_mm, {-425, -15, 60 + 15 + 30}));
    CHECK(near(bounds_of(screw).high_mm, {-375, 35, 60 + 240 + 15}));
    const double exact = std::numbers::pi / 4 * (32.0 * 32 * (228 - 30) + 50.0 * 50 * 12);
    CHECK(signed_volume_mm3(screw) > exact);
    CHECK(within(signed_volume_mm3(screw), exact, 1e-3));

    ScrewJack straight = screw_jack(); // a head no wider than the screw leaves no ledge
    straight.head_diameter_mm = straight.screw_diameter_mm;
    CHECK(closed_and_clean(jack_screw_solid(jack(), straight)));
    ScrewJack slim = screw_jack(); // or narrower
    slim.head_diameter_mm = 20;
    CHECK(closed_and_clean(jack_screw_solid(jack(), slim)));
    CHECK(signed_volume_mm3(jack_screw_solid(jack(), slim)) > 0);
    ScrewJack unsized = screw_jack();
    unsized.body_diameter_mm = 0;
    CHECK_THROWS_AS((void)jack_body_solid(jack(), unsized), std::invalid_argument);
    unsized = screw_jack();
    unsized.head_thickness_mm = 240;
    CHECK_THROWS_AS((void)jack_screw_solid(jack(), unsized), std::invalid_argument);
}

TEST_CASE("a guide: a post that stands, a sleeve with a bore hung from the platen's face") {
    const Guide guide{"front", {300, -200}, 20, 20.5, 40, 60, 18, 50, 700};
    const TriangleMesh post = guide_post_solid(guide);
    const TriangleMesh sleeve = guide_sleeve_solid(guide, 333);
    CHECK(closed_and_clean(post));
    CHECK(closed_and_clean(sleeve));
    CHECK(near(bounds_of(post).low_mm, {290, -210, 50}));
    CHECK(near(bounds_of(post).high_mm, {310, -190, 700}));
    CHECK(near(bounds_of(sleeve).low_mm, {280, -220, 333 - 18 - 60}));
    CHECK(near(bounds_of(sleeve).high_mm, {320, -180, 333 - 18}));
    CHECK(within(signed_volume_mm3(sleeve), std::numbers::pi / 4 * (40.0 * 40 - 20.5 * 20.5) * 60, 2e-3));
    Guide wrong = guide;
    wrong.bore_diameter_mm = 40;
    CHECK_THROWS_AS((void)guide_sleeve_solid(wrong, 333), std::invalid_argument);
}
