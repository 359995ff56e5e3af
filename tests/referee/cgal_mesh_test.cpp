// Referee: CGAL 5.5, Polygon Mesh Processing (is_closed, volume, does_self_intersect, self_intersections).
#include "scene/mesh/import.hpp"
#include "scene/mesh/self_intersection.hpp"
#include "scene/mesh/shapes.hpp"
#include "scene/mesh/soundness.hpp"
#include "tests/within.hpp"

#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/Polygon_mesh_processing/measure.h>
#include <CGAL/Polygon_mesh_processing/self_intersections.h>
#include <CGAL/Surface_mesh.h>
#include <doctest/doctest.h>

#include <iterator>
#include <random>
#include <utility>
#include <vector>

namespace evenclose {
namespace {

using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
using PeerMesh = CGAL::Surface_mesh<Kernel::Point_3>;
namespace peer = CGAL::Polygon_mesh_processing;

PeerMesh peer_of(const TriangleMesh& mesh) {
    PeerMesh result;
    std::vector<PeerMesh::Vertex_index> vertices;
    for (const Vec3& v : mesh.vertices_mm) {
        vertices.push_back(result.add_vertex({v.x, v.y, v.z}));
    }
    for (const TriangleCorners& t : mesh.triangles) {
        REQUIRE(result.add_face(vertices[t[0]], vertices[t[1]], vertices[t[2]]) != PeerMesh::null_face());
    }
    return result;
}

} // namespace

TEST_CASE("mesh against CGAL: closure, volume and self-intersection of shapes spoiled at random") {
    const TriangleMesh shapes[] = {cylinder_shape(50, 100, 24), icosphere_shape(60, 2), torus_shape(60, 20, 16, 12),
                                   tube_shape(50, 40, 100, 20), sphere_shape(60, 16, 8)};
    std::mt19937 random(20240611);
    const auto within_one = [&] { return std::uniform_real_distribution<double>(-1, 1)(random); };
    int crossing = 0, clean = 0, open = 0;
    for (int trial = 0; trial < 300; ++trial) {
        CAPTURE(trial);
        TriangleMesh mesh = shapes[trial % 5];
        // A few corners pulled out of place, from a little to right through the other side; some triangles left out.
        const double reach_mm = trial % 2 == 0 ? 6 : 90;
        for (unsigned pulled = random() % 4; pulled > 0; --pulled) {
            mesh.vertices_mm[random() % mesh.vertices_mm.size()] +=
                reach_mm * Vec3{within_one(), within_one(), within_one()};
        }
        if (trial % 3 == 0) {
            mesh.triangles.erase(mesh.triangles.begin() + static_cast<long>(random() % mesh.triangles.size()));
        }
        const PeerMesh other = peer_of(mesh);
        const Soundness sound = soundness_of(mesh);
        CHECK(sound.closed() == CGAL::is_closed(other));
        const bool crosses = self_intersections(mesh).count > 0;
        CHECK(crosses == peer::does_self_intersect(other));
        if (sound.closed()) {
            CHECK(test::within(sound.shells.at(0).signed_volume_mm3, peer::volume(other), 1e-9));
        }
        ++(crosses ? crossing : clean);
        open += sound.closed() ? 0 : 1;
    }
    CHECK(crossing > 50);
    CHECK(clean > 50);
    CHECK(open == 100);
}

TEST_CASE("mesh against CGAL: two spheres that run through each other, the same pairs") {
    std::mt19937 random(7);
    for (int trial = 0; trial < 10; ++trial) {
        TriangleMesh mesh = icosphere_shape(60, 3);
        const double by = std::uniform_real_distribution<double>(5, 130)(random);
        append(mesh, icosphere_shape(60, 3), {Mat3{1.0}, {by, 0.31 * by + 0.7, 0.17 * by}});
        std::vector<std::pair<PeerMesh::Face_index, PeerMesh::Face_index>> pairs;
        peer::self_intersections(peer_of(mesh), std::back_inserter(pairs));
        CAPTURE(by);
        CHECK(self_intersections(mesh).count == pairs.size());
    }
}

} // namespace evenclose
