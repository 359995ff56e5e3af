// The sweep against CGAL 5.5 at sampled poses of random bodies: AABB tree and exact predicates for contact and for the
// nearest corner, Side_of_triangle_mesh for inside, distances of all pairs of triangles where there are few.
//
// The second referee beside FCL (tests/checks/clearance/referee_test.cpp). EVENCLOSE_LONG=1 runs the full count.
#include "checks/clearance/sweep.hpp"
#include "tests/checks/clearance/random_bodies.hpp"
#include "tests/referee/exact.hpp"

#include <CGAL/AABB_face_graph_triangle_primitive.h>
#include <CGAL/AABB_traits.h>
#include <CGAL/AABB_tree.h>
#include <CGAL/AABB_triangle_primitive.h>
#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/Side_of_triangle_mesh.h>
#include <CGAL/Surface_mesh.h>
#include <doctest/doctest.h>

#include <cstdlib>
#include <limits>
#include <optional>
#include <vector>

namespace evenclose {
namespace {

using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
using Faces = std::vector<Kernel::Triangle_3>;
using Tree = CGAL::AABB_tree<CGAL::AABB_traits<Kernel, CGAL::AABB_triangle_primitive<Kernel, Faces::const_iterator>>>;
using Surface = CGAL::Surface_mesh<Kernel::Point_3>;

constexpr std::size_t kMostPairs = 6000; // of triangles, for distances of all with all at a pose

struct Posed {
    Posed(const TriangleMesh& mesh, const Pose& pose) {
        for (const TriangleCorners& c : mesh.triangles) {
            const Triangle t{pose.apply(mesh.vertices_mm[c[0]]), pose.apply(mesh.vertices_mm[c[1]]),
                             pose.apply(mesh.vertices_mm[c[2]])};
            triangles.push_back(t);
            const Kernel::Triangle_3 face{point(t[0]), point(t[1]), point(t[2])};
            if (!face.is_degenerate()) { // an edge of its neighbours, which are asked
                faces.push_back(face);
            }
            corners.insert(corners.end(), t.begin(), t.end());
        }
    }
    static Kernel::Point_3 point(const Vec3& v) { return {v.x, v.y, v.z}; }
    std::vector<Triangle> triangles;
    Faces faces;
    std::vector<Vec3> corners;
};

/// Of a closed mesh that CGAL takes for one.
std::optional<Surface> surface_of(const TriangleMesh& mesh, const Pose& pose) {
    Surface surface;
    std::vector<Surface::Vertex_index> vertices;
    for (const Vec3& v : mesh.vertices_mm) {
        vertices.push_back(surface.add_vertex(Posed::point(pose.apply(v))));
    }
    for (const TriangleCorners& c : mesh.triangles) {
        if (c[0] == c[1] || c[1] == c[2] || c[2] == c[0] ||
            surface.add_face(vertices[c[0]], vertices[c[1]], vertices[c[2]]) == Surface::null_face()) {
            return std::nullopt;
        }
    }
    return CGAL::is_closed(surface) ? std::optional(surface) : std::nullopt;
}

enum class Inside { no, yes, cannot_tell };

/// cannot_tell: CGAL wants a closed surface without faces doubled.
Inside inside(const TriangleMesh& outer, const Pose& outer_pose, const Vec3& point) {
    const std::optional<Surface> surface = surface_of(outer, outer_pose);
    if (!surface) {
        return Inside::cannot_tell;
    }
    return CGAL::Side_of_triangle_mesh<Surface, Kernel>(*surface)(Posed::point(point)) == CGAL::ON_BOUNDED_SIDE
               ? Inside::yes
               : Inside::no;
}

struct Seen {
    bool meets = false;
    Inside inside = Inside::no;
    double no_more_than = std::numeric_limits<double>::infinity(); // the distance, from a corner of one to the other
    std::optional<double> distance;                                // where all pairs were asked
};

Seen look(const TriangleMesh& first, const Pose& first_pose, const TriangleMesh& second, const Pose& second_pose) {
    const Posed a(first, first_pose);
    const Posed b(second, second_pose);
    Seen seen;
    for (const bool swapped : {false, true}) {
        const Posed& one = swapped ? b : a;
        const Posed& other = swapped ? a : b;
        if (one.faces.empty()) {
            continue;
        }
        Tree tree(one.faces.cbegin(), one.faces.cend());
        if (!swapped) {
            for (const Kernel::Triangle_3& face : other.faces) {
                seen.meets = seen.meets || tree.do_intersect(face);
            }
        }
        for (const Vec3& corner : other.corners) {
            seen.no_more_than =
                std::min(seen.no_more_than, std::sqrt(CGAL::to_double(tree.squared_distance(Posed::point(corner)))));
        }
    }
    if (seen.meets) {
        seen.no_more_than = 0;
        seen.distance = 0;
    } else {
        const Inside one = inside(first, first_pose, b.corners.front());
        const Inside other = inside(second, second_pose, a.corners.front());
        seen.inside = one == Inside::yes || other == Inside::yes ? Inside::yes
                      : one == Inside::no && other == Inside::no ? Inside::no
                                                                 : Inside::cannot_tell;
        if (a.triangles.size() * b.triangles.size() <= kMostPairs) {
            double least = std::numeric_limits<double>::infinity();
            for (const Triangle& s : a.triangles) {
                const auto simplex = exact::simplex_of<exact::DoubleKernel>(s);
                for (const Triangle& t : b.triangles) {
                    least =
                        std::min(least, exact::squared_distance(simplex, exact::simplex_of<exact::DoubleKernel>(t)));
                }
            }
            seen.distance = std::sqrt(least);
        }
    }
    return seen;
}

void run(int count, bool tilted, unsigned seed) {
    int poses = 0;
    int fouls = 0;
    int insides = 0;
    int measured = 0;
    int faults = 0;
    for (int trial = 0; trial < count; ++trial) {
        std::mt19937 random(seed + static_cast<unsigned>(trial));
        CAPTURE(trial);
        const test::RandomBody still = test::random_body(random);
        test::RandomBody moving = test::random_body(random);
        moving.placement.translation_mm.z -= test::uniform(random, 0, 60);
        if (trial % 8 == 0) { // one within the other, for a while at least
            TriangleMesh small = *moving.mesh;
            for (Vec3& v : small.vertices_mm) {
                v *= 0.1;
            }
            moving.mesh = std::make_shared<const TriangleMesh>(std::move(small));
            moving.placement.translation_mm = 0.2 * moving.placement.translation_mm + still.placement.translation_mm;
        }
        double length = 0;
        const Ride ride = test::random_ride(random, length, tilted);
        SweepRequest request;
        request.to = {length};
        request.interest_mm = 1000;
        Progress progress;
        const Sweep answer = sweep({prepare(still.mesh), still.placement, nullptr},
                                   {prepare(moving.mesh), moving.placement, &ride}, request, progress);
        std::vector<Travel> looks;
        for (int i = 0; i < 6; ++i) {
            looks.push_back({test::uniform(random, 0, length)});
        }
        for (const ContactSpan& contact : answer.contacts) {
            looks.push_back({0.5 * (contact.from.mm + contact.to.mm)});
            looks.push_back({std::max(0.0, contact.from.mm - 0.02)});
            looks.push_back({std::min(length, contact.to.mm + 0.02)});
        }
        for (const Travel at : looks) {
            const ClearanceSpan& span = test::span_at(answer, at);
            const SlopeRange range = ride.slope_range(at);
            const Slope slope{test::uniform(random, range.low.x, range.high.x),
                              test::uniform(random, range.low.y, range.high.y)};
            const Seen seen =
                look(*still.mesh, still.placement, *moving.mesh, pose_at(ride, moving.placement, at, slope));
            ++poses;
            fouls += seen.meets ? 1 : 0;
            insides += seen.inside == Inside::yes ? 1 : 0;
            measured += seen.distance ? 1 : 0;
            CAPTURE(at.mm);
            CAPTURE(slope.x);
            CAPTURE(slope.y);
            CAPTURE(seen.meets);
            const bool told_below =
                span.lower_mm <= (seen.inside == Inside::yes ? 0 : seen.distance.value_or(seen.no_more_than)) + 1e-7;
            CHECK(told_below);
            bool told_above = true;
            bool certain = true;
            if (!tilted && seen.distance && seen.inside == Inside::no) {
                told_above = *seen.distance <= span.upper_mm + 1e-7;
                CHECK(told_above);
            }
            if (!tilted && !seen.meets && seen.inside == Inside::no && seen.distance.value_or(0) > 0.1) {
                for (const ContactSpan& contact : answer.contacts) {
                    certain = certain && !(contact.from.mm + 1e-6 < at.mm && at.mm < contact.to.mm - 1e-6);
                }
                CHECK(certain);
            }
            faults += told_below && told_above && certain ? 0 : 1;
        }
    }
    MESSAGE(count << " sweeps, " << poses << " poses, " << fouls << " meet, " << insides
                  << " inside, distance measured in " << measured << "; faults " << faults);
    CHECK(fouls > 0);
    CHECK(insides > 0);
    CHECK(measured > poses / 4);
}

} // namespace

TEST_CASE("random bodies along the stroke, held against CGAL at poses") {
    run(std::getenv("EVENCLOSE_LONG") != nullptr ? 2'000 : 40, false, 60'613); // NOLINT(concurrency-mt-unsafe)
}

TEST_CASE("random bodies along the stroke and tilted, held against CGAL at poses") {
    run(std::getenv("EVENCLOSE_LONG") != nullptr ? 1'000 : 16, true, 1'948); // NOLINT(concurrency-mt-unsafe)
}

} // namespace evenclose
