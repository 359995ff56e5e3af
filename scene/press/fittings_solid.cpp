#include "scene/press/fittings_solid.hpp"

#include "scene/press/prism.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <stdexcept>

namespace evenclose {
namespace {

void need(bool fits, const std::string& name, const char* what) {
    if (!fits) {
        throw std::invalid_argument(fmt::format("\"{}\": {}", name, what));
    }
}

Pose at(Vec3 place_mm) { return {Mat3{1.0}, place_mm}; }

double body_height_mm(const Jack& jack, const ScrewJack& screw) {
    return jack.closed_height_mm - screw.head_thickness_mm;
}

} // namespace

TriangleMesh plate_solid(const Platen& platen, double underside_z_mm) {
    need(platen.size_mm.x > 0 && platen.size_mm.y > 0 && platen.thickness_mm > 0, "platen",
         "length, width and thickness must be above 0");
    return placed(prism(rectangle_outline(platen.size_mm.x, platen.size_mm.y), platen.thickness_mm),
                  at({platen.centre_mm, underside_z_mm}));
}

TriangleMesh jack_body_solid(const Jack& jack, const ScrewJack& screw) {
    need(screw.body_diameter_mm > 0, jack.name, "the body diameter must be above 0");
    need(body_height_mm(jack, screw) > 0, jack.name, "the head is thicker than the closed height");
    return placed(prism(round_outline(screw.body_diameter_mm), body_height_mm(jack, screw)), at(jack.foot_mm));
}

// What a screw jack has below its screw: a floor that keeps the screw off whatever the jack stands on (common practice,
// no source). Without it the screw's end would lie in the plane of the foot and touch the base beam when screwed down.
constexpr double kJackFloor_mm = 30;
constexpr double kJackFloorShare = 0.25; // at most, of a low jack's body

TriangleMesh jack_screw_solid(const Jack& jack, const ScrewJack& screw) {
    need(screw.screw_diameter_mm > 0 && screw.head_diameter_mm > 0, jack.name,
         "screw and head diameter must be above 0");
    need(screw.head_thickness_mm > 0, jack.name, "the head thickness must be above 0");
    need(body_height_mm(jack, screw) > 0, jack.name, "the head is thicker than the closed height");
    const double thread = 0.5 * screw.screw_diameter_mm;
    const double head = 0.5 * screw.head_diameter_mm;
    const double shoulder = body_height_mm(jack, screw);
    const double top = jack.closed_height_mm;
    const double floor = std::min(kJackFloor_mm, kJackFloorShare * shoulder);
    return placed(turned_solid({{thread, floor}, {thread, shoulder}, {head, shoulder}, {head, top}}),
                  at(jack.foot_mm + Vec3{0, 0, jack.parked_mm}));
}

TriangleMesh guide_post_solid(const Guide& guide) {
    need(guide.post_diameter_mm > 0, guide.name, "the post diameter must be above 0");
    need(guide.post_to_z_mm > guide.post_from_z_mm, guide.name, "the post must end above where it starts");
    return placed(prism(round_outline(guide.post_diameter_mm), guide.post_to_z_mm - guide.post_from_z_mm),
                  at({guide.at_mm, guide.post_from_z_mm}));
}

TriangleMesh guide_sleeve_solid(const Guide& guide, double face_z_mm) {
    need(guide.bore_diameter_mm > 0 && guide.bore_diameter_mm < guide.sleeve_outside_diameter_mm, guide.name,
         "the bore must be less than the sleeve's outside diameter");
    need(guide.length_mm > 0, guide.name, "the guide length must be above 0");
    const double top = face_z_mm - guide.sleeve_below_top_mm;
    return placed(prism(round_outline(guide.sleeve_outside_diameter_mm, guide.bore_diameter_mm), guide.length_mm),
                  at({guide.at_mm, top - guide.length_mm}));
}

} // namespace evenclose
