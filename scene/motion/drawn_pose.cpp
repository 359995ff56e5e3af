#include "scene/motion/drawn_pose.hpp"

#include <glm/geometric.hpp>

namespace evenclose {
namespace {

constexpr std::size_t kPlaten = 1; // into Assembly::rides

/// Round a screw's or a shaft's own axis, where it is placed at travel 0.
Pose turned(const Turning& turning, double risen_mm) {
    const Vec3 axis = glm::normalize(turning.to_mm - turning.from_mm);
    const Mat3 turn = glm::mat3_cast(glm::angleAxis(turned_rad(turning, risen_mm), axis));
    return {turn, turning.from_mm - turn * turning.from_mm};
}

/// All but the turning about its own axis.
Pose carried(const Assembly& assembly, const Body& body, Travel at, Slope platen) {
    if (body.of_jack) {
        const double rise = head_rise_mm(assembly, *body.of_jack, at, platen);
        if (body.fold) {
            return pose_of(*body.fold, rise);
        }
        Pose pose = body.placement;
        pose.translation_mm.z += body.of_jack->share_of_lift * rise;
        return pose;
    }
    const Ride& ride = assembly.rides[body.ride];
    if (body.ride == kPlaten) {
        return pose_at(ride, body.placement, at, platen);
    }
    if (ride.fixed()) {
        return body.placement;
    }
    // An intermediate platen lies level on its rest, and goes with the platen once it is picked up.
    const std::optional<Travel> up = assembly.picked_up(body.ride);
    return pose_at(ride, body.placement, at, up && at >= *up ? platen : Slope{});
}

} // namespace

double head_rise_mm(const Assembly& assembly, const JackPlace& jack, Travel at, Slope platen) {
    const Ride& ride = assembly.rides[kPlaten];
    const Vec2 from_pivot = jack.at_mm - Vec2{ride.pivot_mm};
    return ride.lift_mm(at) + (platen.x - assembly.open_slope.x) * from_pivot.x +
           (platen.y - assembly.open_slope.y) * from_pivot.y;
}

double platen_underside_mm(const Assembly& assembly, Vec2 at_mm, Travel at, Slope platen) {
    const Ride& ride = assembly.rides[kPlaten];
    const Vec2 from_pivot = at_mm - Vec2{ride.pivot_mm};
    return ride.pivot_mm.z + ride.lift_mm(at) + platen.x * from_pivot.x + platen.y * from_pivot.y;
}

Pose drawn_pose(const Assembly& assembly, const Body& body, Travel at, Slope platen) {
    const Pose pose = carried(assembly, body, at, platen);
    if (!body.turning) {
        return pose;
    }
    return pose * turned(*body.turning, assembly.rides[body.turning->head_ride].lift_mm(at));
}

Pose drawn_pose(const Assembly& assembly, const Body& body, Travel at) {
    return drawn_pose(assembly, body, at, assembly.rides[kPlaten].slope_range(at).middle());
}

const SharedMesh& drawn_mesh(const Assembly& assembly, const Body& body, Travel at) {
    if (body.shapes.empty()) {
        return body.mesh;
    }
    const double risen = assembly.rides[body.of_jack->head_ride].lift_mm(at);
    for (const ShapeAtRise& shape : body.shapes) {
        if (risen <= shape.up_to_mm) {
            return shape.mesh;
        }
    }
    return body.shapes.back().mesh;
}

} // namespace evenclose
