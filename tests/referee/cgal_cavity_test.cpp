// Referee: CGAL 5.5: vertex normals (Polygon Mesh Processing) make a face offset by the stack's thickness, its AABB tree
// shoots the same rays and finds the nearest points.
#include "checks/cavity/gap_map.hpp"
#include "checks/cavity/gap_summary.hpp"
#include "tests/checks/cavity/field_half.hpp"
#include "tests/within.hpp"

#include <CGAL/AABB_face_graph_triangle_primitive.h>
#include <CGAL/AABB_traits.h>
#include <CGAL/AABB_tree.h>
#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/Polygon_mesh_processing/compute_normal.h>
#include <CGAL/Surface_mesh.h>
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <variant>

namespace evenclose {
namespace {

using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
using PeerMesh = CGAL::Surface_mesh<Kernel::Point_3>;
using Primitive = CGAL::AABB_face_graph_triangle_primitive<PeerMesh>;
using Tree = CGAL::AABB_tree<CGAL::AABB_traits<Kernel, Primitive>>;

/// The face alone, without walls and back.
TriangleMesh face_of(int along, int across) {
    TriangleMesh face;
    const TriangleMesh half = test::deck_lower(along, across);
    face.vertices_mm.assign(half.vertices_mm.begin(), half.vertices_mm.begin() + (along + 1) * (across + 1));
    for (const TriangleCorners& t : half.triangles) {
        if (std::all_of(t.begin(), t.end(), [&](std::uint32_t v) { return v < face.vertices_mm.size(); })) {
            face.triangles.push_back(t);
        }
    }
    return face;
}

PeerMesh peer_of(const TriangleMesh& mesh) {
    PeerMesh result;
    for (const Vec3& v : mesh.vertices_mm) {
        result.add_vertex({v.x, v.y, v.z});
    }
    for (const TriangleCorners& t : mesh.triangles) {
        REQUIRE(result.add_face(PeerMesh::Vertex_index(t[0]), PeerMesh::Vertex_index(t[1]),
                                PeerMesh::Vertex_index(t[2])) != PeerMesh::null_face());
    }
    return result;
}

} // namespace

TEST_CASE("cavity against CGAL: a face that CGAL offsets by the stack leaves the stack everywhere") {
    constexpr double kStack = 10.5;
    const TriangleMesh lower = face_of(300, 90);
    const PeerMesh peer = peer_of(lower);
    std::map<PeerMesh::Vertex_index, Kernel::Vector_3> normals;
    CGAL::Polygon_mesh_processing::compute_vertex_normals(peer, boost::make_assoc_property_map(normals));
    TriangleMesh upper = lower;
    for (std::size_t i = 0; i < upper.vertices_mm.size(); ++i) {
        const Kernel::Vector_3& n = normals.at(PeerMesh::Vertex_index(static_cast<std::uint32_t>(i)));
        upper.vertices_mm[i] += kStack * Vec3{n.x(), n.y(), n.z()};
    }
    const FacingHalves halves(test::share(lower), test::share(upper), 1.0,
                              {{-270, -75}, {270, -75}, {270, 75}, {-270, 75}});
    const GapMap map = halves.map({.stack_mm = kStack, .samples_a_mm2 = 0.25});
    const GapSummary summary = summarise(map, 0.3);
    CHECK(summary.unseen_mm2 == 0);
    // Facets of 2 mm on radii of 250 and more cost 2^2 / (8 x 250) = 0.002 mm on either face.
    CHECK(std::abs(summary.least_mm) < 0.01);
    CHECK(std::abs(summary.greatest_mm) < 0.01);

    // And the same rays, shot by CGAL: the gap is theirs; nothing of the upper face is nearer than the gap by more than
    // a slope of the two facets allows.
    const PeerMesh above = peer_of(upper);
    const Tree tree(faces(above).first, faces(above).second, above);
    std::size_t shot = 0;
    for (std::size_t i = 0; i < map.samples.size(); i += 37) {
        const GapSample& sample = map.samples[i];
        REQUIRE(sample.seen == Seen::faced);
        const Vec3 n{sample.normal};
        const Kernel::Point_3 from{sample.at_mm.x, sample.at_mm.y, sample.at_mm.z};
        const auto met = tree.first_intersection(Kernel::Ray_3(from, Kernel::Vector_3(n.x, n.y, n.z)));
        REQUIRE(met.has_value());
        const auto* point = boost::get<Kernel::Point_3>(&met->first);
        REQUIRE(point != nullptr);
        CHECK(test::near(std::sqrt(CGAL::squared_distance(from, *point)), static_cast<double>(sample.gap_mm), 1e-4));
        const double nearest = std::sqrt(tree.squared_distance(from));
        CHECK(nearest <= static_cast<double>(sample.gap_mm) + 1e-4);
        CHECK(nearest > static_cast<double>(sample.gap_mm) - 0.01);
        ++shot;
    }
    CHECK(shot > 400);
}

} // namespace evenclose
