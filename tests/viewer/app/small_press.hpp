// tests/viewer/app/small_press.hpp: a press made by hand for tests of the window's state: a post, a head, a platen that
// rises 200 mm and may tilt, a bolt beside it.
#pragma once

#include "checks/check_list.hpp"
#include "scene/motion/assembly.hpp"

#include <memory>
#include <string>

namespace evenclose::test {

inline SharedMesh box_mesh(const Vec3& size_mm) {
    auto mesh = std::make_shared<TriangleMesh>();
    for (int i = 0; i < 8; ++i) {
        mesh->vertices_mm.emplace_back((i & 1 ? 0.5 : -0.5) * size_mm.x, (i & 2 ? 0.5 : -0.5) * size_mm.y,
                                       (i & 4 ? 0.5 : -0.5) * size_mm.z);
    }
    mesh->triangles = {{0, 2, 1}, {1, 2, 3}, {4, 5, 6}, {5, 7, 6}, {0, 1, 4}, {1, 5, 4},
                       {2, 6, 3}, {3, 6, 7}, {0, 4, 2}, {2, 4, 6}, {1, 3, 5}, {3, 7, 5}};
    return mesh;
}

inline std::shared_ptr<const Assembly> small_press() {
    auto assembly = std::make_shared<Assembly>();
    Ride platen;
    platen.pivot_mm = {0.0, 0.0, 300.0};
    platen.knots = {{{0.0}, 0.0, {}}, {{200.0}, 200.0, {{-0.001, -0.002}, {0.003, 0.002}}}};
    assembly->rides = {Ride{}, platen};
    const auto body = [&](const char* name, Part part, const Vec3& size, const Vec3& at, std::size_t ride) {
        assembly->bodies.push_back({name, part, box_mesh(size), Pose{Mat3{1.0}, at}, ride, "pine", false});
    };
    body("left post", Part::member, {90.0, 90.0, 1200.0}, {-500.0, 0.0, 600.0}, 0);
    body("head", Part::head, {1100.0, 300.0, 60.0}, {0.0, 0.0, 900.0}, 0);
    body("platen", Part::platen, {800.0, 300.0, 60.0}, {0.0, 0.0, 300.0}, 1);
    body("bolt", Part::member, {20.0, 20.0, 40.0}, {390.0, 0.0, 420.0}, 0);
    assembly->daylight_mm = 540.0;
    assembly->shut_height_mm = 340.0;
    assembly->closed = {200.0};
    assembly->end_of_stroke = {230.0};
    assembly->last = {200.0};
    return assembly;
}

inline Sweep small_sweep(double least_mm, double least_at_mm) {
    Sweep sweep;
    sweep.contact = Contact::clear;
    sweep.spans = {{{0.0}, {200.0}, least_mm, least_mm + 0.05}};
    sweep.least_lower_mm = least_mm;
    sweep.least_upper_mm = least_mm + 0.05;
    sweep.least_at = {least_at_mm};
    return sweep;
}

inline std::shared_ptr<const CheckResults> small_results() {
    auto results = std::make_shared<CheckResults>();
    Finding foul;
    foul.check = "travel";
    foul.verdict = Verdict::no_go;
    foul.title = "Platen and bolt foul";
    foul.travel = TravelInterval{{70.0}, {110.0}};
    foul.slope = Slope{0.002, 0.001};
    foul.bodies = {"bolt", "platen"};
    foul.at_mm = Vec3{390.0, 0.0, 400.0};
    foul.remedy = "Move the bolt out by 12 mm.";
    Finding tight;
    tight.check = "daylight";
    tight.verdict = Verdict::marginal;
    tight.title = "The mold goes in with little room";
    tight.travel = TravelInterval{{0.0}, {0.0}};
    Finding fine;
    fine.check = "stroke";
    fine.verdict = Verdict::go;
    fine.title = "30 mm of stroke left";
    results->findings = {foul, tight, fine};

    Sweep bolt = small_sweep(0.0, 90.0);
    bolt.contact = Contact::foul;
    bolt.contacts = {{{70.0}, {110.0}}};
    results->profiles = {
        {0, 2, small_sweep(12.0, 40.0), {}, {}}, {1, 2, small_sweep(340.0, 200.0), {}, {}}, {2, 3, bolt, {}, {}}};
    return results;
}

} // namespace evenclose::test
