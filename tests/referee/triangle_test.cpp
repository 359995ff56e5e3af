// Triangle primitives of the clearance engine against CGAL 5.5 and FCL 0.7 on random pairs, spoiled ones among them.
//
// CGAL in doubles and FCL's triDistance are asked for each pair; where either differs from ours by more than rounding,
// and for every 50th pair in any case, CGAL in exact rationals decides. EVENCLOSE_LONG=1 runs millions of pairs.
#include "checks/clearance/lasting_contact.hpp"
#include "checks/clearance/triangle_distance.hpp"
#include "tests/referee/exact.hpp"

#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <doctest/doctest.h>
#include <fcl/narrowphase/detail/primitive_shape_algorithm/triangle_distance.h>
#include <glm/geometric.hpp>

#include <cmath>
#include <cstdlib>
#include <random>

namespace evenclose {
namespace {

bool long_run() { return std::getenv("EVENCLOSE_LONG") != nullptr; } // NOLINT(concurrency-mt-unsafe)

struct Pair {
    Triangle a, b;
    double size = 0; // greatest coordinate: what rounding is measured by
};

class Draw {
public:
    explicit Draw(unsigned seed) : random_(seed) {}
    double uniform(double from, double to) {
        return from + (to - from) * std::uniform_real_distribution<double>(0, 1)(random_);
    }
    Vec3 vector(double size) { return {uniform(-size, size), uniform(-size, size), uniform(-size, size)}; }
    double whole(int from, int to) { return std::uniform_int_distribution<int>(from, to)(random_); }
    std::size_t pick(std::size_t below) { return random_() % below; }
    Triangle triangle(double size) { return {vector(size), vector(size), vector(size)}; }

    Pair pair() {
        Pair p;
        p.a = triangle(10);
        p.b = triangle(10);
        const std::size_t kind = pick(10);
        const auto for_all = [&p](auto change) {
            for (Triangle* t : {&p.a, &p.b}) {
                for (Vec3& corner : *t) {
                    change(corner);
                }
            }
        };
        switch (kind) {
        case 0: // apart by what a clearance is
            for (Vec3& corner : p.b) {
                corner += Vec3{0, 0, uniform(0, 40)};
            }
            break;
        case 1: // needles: one corner all but on another, or on the edge between the others
            for (Triangle* t : {&p.a, &p.b}) {
                const double thin = std::pow(10.0, uniform(-9, -1));
                (*t)[2] = pick(2) == 0 ? (*t)[0] + vector(thin)
                                       : (*t)[0] + uniform(0, 1) * ((*t)[1] - (*t)[0]) + vector(thin);
            }
            break;
        case 2: // no triangle: an edge or a point
            p.a[1] = p.a[0];
            if (pick(2) == 0) {
                p.a[2] = p.a[0];
            }
            if (pick(2) == 0) {
                p.b[2] = p.b[pick(2)];
            }
            break;
        case 3: // on a coarse grid: coplanar, parallel, touching, the same
            for_all([this](Vec3& corner) { corner = {whole(-2, 2), whole(-2, 2), whole(-2, 2)}; });
            break;
        case 4: // neighbours: a corner or an edge in common
            p.b[pick(3)] = p.a[0];
            if (pick(2) == 0) {
                p.b[0] = p.a[0];
                p.b[1] = p.a[1];
            }
            break;
        case 5: // in one plane, level or aslant
            for_all([this](Vec3& corner) { corner = {whole(-8, 8), whole(-8, 8), 3}; });
            if (pick(2) == 0) {
                for_all([](Vec3& corner) { corner.z = corner.x - 2 * corner.y; });
            }
            break;
        case 6: { // faces that lie along each other with a small gap
            for_all([this](Vec3& corner) { corner.z = 0.001 * uniform(-1, 1); });
            const double gap = std::pow(10.0, uniform(-5, 0));
            for (Vec3& corner : p.b) {
                corner.z += gap;
            }
            break;
        }
        case 7: // far from the origin
            p.size = 1e5;
            for_all([this, off = vector(1e5)](Vec3& corner) { corner += off; });
            break;
        case 8: { // a corner exactly on a face or an edge (dyadic shares of whole numbers)
            for_all([this](Vec3& corner) { corner = {whole(-64, 64), whole(-64, 64), whole(-64, 64)}; });
            const double u = whole(0, 8) / 8;
            const double v = pick(2) == 0 ? 0 : whole(0, 8) / 8 * (1 - u);
            p.b[pick(3)] = p.a[0] + u * (p.a[1] - p.a[0]) + v * (p.a[2] - p.a[0]);
            break;
        }
        default:
            break;
        }
        for_all([&p](const Vec3& c) { p.size = std::max({p.size, std::abs(c.x), std::abs(c.y), std::abs(c.z)}); });
        return p;
    }

private:
    std::mt19937 random_;
};

double fcl_distance(const Pair& p) {
    fcl::Vector3d a[3];
    fcl::Vector3d b[3];
    for (std::size_t i = 0; i < 3; ++i) {
        a[i] = {p.a[i].x, p.a[i].y, p.a[i].z};
        b[i] = {p.b[i].x, p.b[i].y, p.b[i].z};
    }
    fcl::Vector3d on_a;
    fcl::Vector3d on_b;
    return fcl::detail::TriangleDistance<double>::triDistance(a, b, on_a, on_b);
}

template <class Kernel> typename Kernel::FT cgal_squared(const Pair& p) {
    return exact::squared_distance(exact::simplex_of<Kernel>(p.a), exact::simplex_of<Kernel>(p.b));
}

double parted(const Pair& p, const Vec3& direction) {
    const auto along = [&](const Vec3& corner) { return glm::dot(direction, corner); };
    return std::min({along(p.b[0]), along(p.b[1]), along(p.b[2])}) -
           std::max({along(p.a[0]), along(p.a[1]), along(p.a[2])});
}

} // namespace

TEST_CASE("distance of triangles against CGAL, exact where in doubt, and FCL") {
    Draw draw(20'261'125);
    const int count = long_run() ? 3'000'000 : 50'000;
    int in_doubt = 0;
    int meeting = 0;
    int fcl_wrong = 0;
    int loose_directions = 0;
    for (int trial = 0; trial < count; ++trial) {
        const Pair p = draw.pair();
        const NearestPoints told = nearest_points(p.a, p.b);
        const double rounding = 1e-9 * std::max(1.0, p.size);
        double true_distance = std::sqrt(cgal_squared<exact::DoubleKernel>(p));
        const double by_fcl = fcl_distance(p);
        const bool doubt =
            !(std::abs(told.distance - true_distance) <= rounding) || !(std::abs(told.distance - by_fcl) <= rounding);
        if (doubt || trial % 50 == 0) {
            true_distance = std::sqrt(CGAL::to_double(cgal_squared<exact::ExactKernel>(p)));
            in_doubt += doubt ? 1 : 0;
        }
        fcl_wrong += std::abs(by_fcl - true_distance) <= rounding ? 0 : 1;
        meeting += true_distance == 0 ? 1 : 0;
        CAPTURE(trial);
        CAPTURE(told.distance);
        CAPTURE(true_distance);
        REQUIRE(std::abs(told.distance - true_distance) <= rounding);
        REQUIRE(std::abs(glm::length(told.on_a - told.on_b) - told.distance) <= rounding);
        // A direction never parts them by more than their distance, and that of the nearest points by just that.
        REQUIRE(parted(p, told.direction) <= true_distance + rounding);
        if (true_distance > 1e-3 && parted(p, told.direction) < true_distance - 1e-6 * std::max(1.0, p.size)) {
            ++loose_directions;
        }
    }
    MESSAGE(count << " pairs, " << meeting << " meet; " << in_doubt
                  << " asked in exact numbers for doubt; FCL wrong in " << fcl_wrong << "; loose directions "
                  << loose_directions);
    CHECK(meeting > count / 20);
    CHECK(loose_directions == 0);
}

TEST_CASE("piercing and lasting contact against CGAL's exact predicates") {
    using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
    const auto meet = [](const Triangle& a, const Triangle& b) {
        return exact::meet(exact::simplex_of<Kernel>(a), exact::simplex_of<Kernel>(b));
    };
    Draw draw(4711);
    const int count = long_run() ? 1'000'000 : 50'000;
    int piercing = 0;
    int lasting = 0;
    int deep = 0;
    for (int trial = 0; trial < count; ++trial) {
        Pair p = draw.pair();
        CAPTURE(trial);
        const bool pierces = pierce(p.a, p.b);
        REQUIRE(pierces == pierce(p.b, p.a));
        piercing += pierces ? 1 : 0;
        if (pierces) {
            REQUIRE(meet(p.a, p.b));
        }
        // An edge well through the inside of the other: must be found.
        const Vec3 normal = glm::cross(p.b[1] - p.b[0], p.b[2] - p.b[0]);
        for (std::size_t i = 0; i < 3 && glm::length(normal) > 1; ++i) {
            const Vec3 from = p.a[i];
            const Vec3 to = p.a[(i + 1) % 3];
            const double h0 = glm::dot(normal, from - p.b[0]);
            const double h1 = glm::dot(normal, to - p.b[0]);
            const double across = glm::length(glm::cross(to - from, p.a[(i + 2) % 3] - from));
            if (h0 * h1 < 0 && std::min(std::abs(h0), std::abs(h1)) > 0.01 * glm::length(normal) && across > 1) {
                const Vec3 where = from + h0 / (h0 - h1) * (to - from);
                double least = 1;
                for (std::size_t j = 0; j < 3; ++j) {
                    const Vec3 side = glm::cross(p.b[(j + 1) % 3] - p.b[j], where - p.b[j]);
                    least = std::min(least, glm::dot(side, normal) / glm::dot(normal, normal));
                }
                if (least > 0.01) {
                    ++deep;
                    REQUIRE(pierces);
                }
            }
        }
        if (trial % 2 == 0) {
            Triangle a_end = p.a;
            Triangle b_end = p.b;
            const double far = draw.uniform(0, 5);
            for (std::size_t i = 0; i < 3; ++i) {
                a_end[i] += draw.vector(far);
                b_end[i] += draw.vector(far);
            }
            if (contact_lasts(p.a, a_end, p.b, b_end, 0)) {
                ++lasting;
                for (int moment = 0; moment <= 8; ++moment) {
                    const double share = moment / 8.0;
                    Triangle a = p.a;
                    Triangle b = p.b;
                    for (std::size_t i = 0; i < 3; ++i) {
                        a[i] = (1 - share) * p.a[i] + share * a_end[i];
                        b[i] = (1 - share) * p.b[i] + share * b_end[i];
                    }
                    REQUIRE(meet(a, b));
                }
            }
        }
    }
    MESSAGE(count << " pairs: " << piercing << " pierce, " << deep << " edges well through, " << lasting
                  << " contacts last");
    CHECK(piercing > count / 50);
    CHECK(deep > count / 50);
    CHECK(lasting > count / 200);
}

} // namespace evenclose
