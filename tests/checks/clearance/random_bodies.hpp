// tests/checks/clearance/random_bodies.hpp: random solids, spoiled meshes and rides for tests with fixed seeds.
#pragma once

#include "tests/checks/clearance/shapes.hpp"

#include <glm/geometric.hpp>
#include <glm/gtc/quaternion.hpp>

#include <algorithm>
#include <random>

namespace evenclose::test {

struct RandomBody {
    SharedMesh mesh;
    Pose placement;
};

/// A box, ball, cylinder, torus or triangle soup, some 10 to 60 mm large, turned and shifted a little; now and then
/// flat on a grid (so that faces coincide), with repeated and inside-out triangles, or with one wall missing.
[[nodiscard]] inline RandomBody random_body(std::mt19937& random) {
    const auto uniform = [&random](double from, double to) {
        return from + (to - from) * std::uniform_real_distribution<double>(0, 1)(random);
    };
    const auto pick = [&random](std::uint32_t below) { return static_cast<std::uint32_t>(random() % below); };
    TriangleMesh mesh;
    switch (random() % 6) {
    case 0:
    case 1:
        mesh = box_mesh({uniform(-30, -5), uniform(-30, -5), uniform(-30, -1)},
                        {uniform(5, 30), uniform(5, 30), uniform(1, 30)});
        break;
    case 2:
        mesh = sphere_mesh(uniform(4, 25), 6 + pick(8));
        break;
    case 3:
        mesh = cylinder_mesh(uniform(3, 20), uniform(4, 60), 5 + pick(20));
        break;
    case 4:
        mesh = torus_mesh(uniform(15, 30), uniform(2, 10), 8 + pick(16), 5 + pick(8));
        break;
    default:
        for (std::uint32_t i = 0, count = 1 + pick(30); i < count; ++i) {
            const Vec3 where{uniform(-25, 25), uniform(-25, 25), uniform(-25, 25)};
            const double size = random() % 4 == 0 ? 20 : 5;
            for (int corner = 0; corner < 3; ++corner) {
                mesh.vertices_mm.push_back(where + size * Vec3{uniform(-1, 1), uniform(-1, 1), uniform(-1, 1)});
            }
            mesh.triangles.push_back({3 * i, 3 * i + 1, 3 * i + 2});
        }
    }
    Pose placement{glm::mat3_cast(glm::normalize(Quat(uniform(-1, 1), uniform(-1, 1), uniform(-1, 1), uniform(-1, 1)))),
                   {uniform(-20, 20), uniform(-20, 20), uniform(-20, 20)}};
    switch (random() % 8) {
    case 0: // on a grid, square to the axes
        placement = {Mat3{1.0}, glm::round(placement.translation_mm / 5.0) * 5.0};
        for (Vec3& v : mesh.vertices_mm) {
            v = glm::round(v / 5.0) * 5.0;
        }
        break;
    case 1: { // repeated and turned over
        const std::size_t count = mesh.triangles.size();
        for (std::size_t i = 0; i < count; i += 3) {
            const TriangleCorners c = mesh.triangles[i];
            mesh.triangles.push_back(random() % 2 == 0 ? c : TriangleCorners{c[0], c[2], c[1]});
        }
        break;
    }
    case 2: // a wall or two missing
        mesh.triangles.resize(std::max<std::size_t>(1, mesh.triangles.size() * 4 / 5));
        break;
    default:
        break;
    }
    return {std::make_shared<const TriangleMesh>(std::move(mesh)), placement};
}

[[nodiscard]] inline double uniform(std::mt19937& random, double from, double to) {
    return from + (to - from) * std::uniform_real_distribution<double>(0, 1)(random);
}

/// Two to four knots, at times with a rest between; `length`: the travel of the last.
[[nodiscard]] inline Ride random_ride(std::mt19937& random, double& length, bool tilted) {
    Ride ride;
    ride.pivot_mm = {uniform(random, -20, 20), uniform(random, -20, 20), uniform(random, -20, 20)};
    const int knots = std::uniform_int_distribution<int>(2, 4)(random);
    double at = 0;
    double lift = 0;
    for (int i = 0; i < knots; ++i) {
        RideKnot knot;
        knot.at = {at};
        knot.lift_mm = lift;
        if (tilted) {
            // Some times what a press' jacks give; wilder envelopes take minutes a sweep.
            const double x = uniform(random, -0.004, 0.004);
            const double y = uniform(random, -0.004, 0.004);
            knot.slope = {{x - uniform(random, 0, 0.004), y - uniform(random, 0, 0.004)},
                          {x + uniform(random, 0, 0.004), y + uniform(random, 0, 0.004)}};
        }
        ride.knots.push_back(knot);
        at += uniform(random, 5, 40);
        lift += random() % 5 == 0 ? 0 : uniform(random, 2, 50);
    }
    length = ride.knots.back().at.mm;
    return ride;
}

[[nodiscard]] inline const ClearanceSpan& span_at(const Sweep& answer, Travel at) {
    return *std::find_if(answer.spans.begin(), answer.spans.end(),
                         [at](const ClearanceSpan& span) { return at <= span.to; });
}

} // namespace evenclose::test
