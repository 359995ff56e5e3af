// What a caller may rely on besides the answer: the same bits for any number of threads, a cancel that is heard, a budget
// that is kept, memory that is bounded.
#include "checks/clearance/clearance_mesh.hpp"
#include "tests/checks/clearance/shapes.hpp"
#include "tests/sanitizer.hpp"

#include <doctest/doctest.h>
#include <glm/gtc/quaternion.hpp>
#include <tbb/global_control.h>

#include <algorithm>
#include <bit>
#include <chrono>
#include <cmath>
#include <cstdint>
#include <string>
#include <thread>
#include <vector>

namespace evenclose {
namespace {

using test::at;
using test::ready;

/// A sheet of 2 n^2 triangles, 600 by 200 mm, in waves as a forming face is; open.
TriangleMesh wavy_sheet(std::uint32_t n, double height_mm) {
    TriangleMesh mesh;
    for (std::uint32_t i = 0; i <= n; ++i) {
        for (std::uint32_t j = 0; j <= n; ++j) {
            const double x = 600.0 * i / n - 300;
            const double y = 200.0 * j / n - 100;
            mesh.vertices_mm.emplace_back(x, y, height_mm + 6 * std::sin(x / 45) + 4 * std::cos(y / 30 + x / 200));
        }
    }
    for (std::uint32_t i = 0; i < n; ++i) {
        for (std::uint32_t j = 0; j < n; ++j) {
            const std::uint32_t a = i * (n + 1) + j;
            mesh.triangles.push_back({a, a + n + 1, a + n + 2});
            mesh.triangles.push_back({a, a + n + 2, a + 1});
        }
    }
    return mesh;
}

struct Scene {
    std::string what;
    TriangleMesh still, moving;
    Pose still_at;
    Ride ride;
};

std::vector<Scene> scenes() {
    Ride in_steps{Vec3{10, -5, 0}, {{{0}, 0, {}}, {{20}, 15, {}}, {{30}, 15, {}}, {{80}, 60, {}}}};
    in_steps.knots[2].slope = in_steps.knots[3].slope = {{-0.003, 0}, {0.002, 0.001}};
    const Pose lying{glm::mat3_cast(glm::angleAxis(1.3, glm::normalize(Vec3{1, 2, 0}))), Vec3{20, 10, 50}};
    return {
        {"torus over sphere, never in touch", test::torus_mesh(30, 10, 48, 24), test::sphere_mesh(12, 20), at(1, 2, 60),
         test::straight_up(90)},
        {"bolt in the way of a plate", test::cylinder_mesh(5, 40, 24), test::box_mesh({-80, -40, -8}, {80, 40, 0}),
         lying, test::straight_up(90)},
        {"bolt in the way of a plate that tilts", test::cylinder_mesh(5, 40, 24),
         test::box_mesh({-80, -40, -8}, {80, 40, 0}), lying, test::straight_up_tilting(90, 0.003, 0.002)},
        {"stops and tilts on the way", test::sphere_mesh(15, 16), test::torus_mesh(40, 9, 32, 16), at(0, 0, 45),
         in_steps},
        {"an even gap", wavy_sheet(100, 70), wavy_sheet(90, 0), {}, test::straight_up(60)},
        {"an even gap, tilted",
         wavy_sheet(100, 70),
         wavy_sheet(110, 0),
         {},
         test::straight_up_tilting(60, 0.002, 0.001)},
        {"sphere driven into a torus", test::torus_mesh(30, 10, 120, 60), test::sphere_mesh(15, 50), at(11, 12, 60),
         test::straight_up(60)},
        {"sheets driven through each other", wavy_sheet(20, 40), wavy_sheet(30, 0), {}, test::straight_up(60)},
    };
}

/// Every number of an answer, to the bit.
std::vector<std::uint64_t> bits_of(const Sweep& sweep) {
    std::vector<std::uint64_t> bits{static_cast<std::uint64_t>(sweep.contact), sweep.tight ? 1U : 0U,
                                    sweep.why_not.size()};
    const auto add = [&bits](std::initializer_list<double> values) {
        for (const double value : values) {
            bits.push_back(std::bit_cast<std::uint64_t>(value));
        }
    };
    for (const ClearanceSpan& span : sweep.spans) {
        add({span.from.mm, span.to.mm, span.lower_mm, span.upper_mm});
    }
    for (const ContactSpan& contact : sweep.contacts) {
        add({contact.from.mm, contact.to.mm});
    }
    add({sweep.least_lower_mm, sweep.least_upper_mm, sweep.least_at.mm, sweep.least_slope.x, sweep.least_slope.y});
    for (const Vec3& point : {sweep.on_first_mm, sweep.on_second_mm}) {
        add({point.x, point.y, point.z});
    }
    return bits;
}

struct Run {
    Contact contact;
    std::vector<std::uint64_t> bits;
};

Run run_with(std::size_t threads, const Scene& scene) {
    const tbb::global_control limit(tbb::global_control::max_allowed_parallelism, threads);
    // Prepared anew, so that the hierarchies too are built by that many threads.
    const SweptBody first{ready(scene.still), scene.still_at, nullptr};
    const SweptBody second{ready(scene.moving), {}, &scene.ride};
    Progress progress;
    const Sweep told = sweep(first, second, {.from = {0}, .to = scene.ride.knots.back().at}, progress);
    return {told.contact, bits_of(told)};
}

} // namespace

TEST_CASE("the same answer, to the bit, for 1, 2, 3 and 8 threads") {
    int in_contact = 0;
    for (const Scene& scene : scenes()) {
        CAPTURE(scene.what);
        const Run one = run_with(1, scene);
        in_contact += one.contact == Contact::clear ? 0 : 1;
        for (const std::size_t threads : {2U, 3U, 8U}) {
            CAPTURE(threads);
            CHECK(run_with(threads, scene).bits == one.bits);
        }
    }
    CHECK(in_contact == 4);
}

TEST_CASE("a sweep of 200 000 triangles a body stops within 100 ms of being cancelled") {
    // Three times that is let pass, for a busy machine, and sanitizers take their time; what it took is told.
    constexpr double kMost_s = test::kSanitized ? 6 : 0.3;
    const SharedClearanceMesh upper = ready(wavy_sheet(316, 0));
    const SharedClearanceMesh lower = ready(wavy_sheet(316, 0));
    REQUIRE(upper->mesh().triangles.size() > 199'000);
    struct Row {
        const char* what;
        double apart_mm;
        Ride ride;
    };
    const Row rows[] = {
        {"an even gap over a wide tilt", 70, test::straight_up_tilting(60, 0.004, 0.004)},
        {"driven through each other, tilted", 40, test::straight_up_tilting(60, 0.004, 0.004)},
        {"driven through each other", 40, test::straight_up(60)},
    };
    double worst_s = 0;
    int cancelled = 0;
    for (const Row& row : rows) {
        for (const int after_ms : {0, 20, 150, 500}) {
            CAPTURE(row.what);
            CAPTURE(after_ms);
            using Clock = std::chrono::steady_clock;
            Progress progress;
            Clock::time_point asked;
            std::thread other([&] {
                std::this_thread::sleep_for(std::chrono::milliseconds(after_ms));
                asked = Clock::now();
                progress.cancel();
            });
            const Sweep told = sweep({upper, at(0, 0, row.apart_mm), nullptr}, {lower, {}, &row.ride},
                                     {.from = {0}, .to = {60}}, progress);
            const Clock::time_point returned = Clock::now();
            other.join();
            if (told.contact != Contact::cancelled) {
                continue; // done before
            }
            ++cancelled;
            const double took_s = std::chrono::duration<double>(returned - asked).count();
            worst_s = std::max(worst_s, took_s);
            CHECK(took_s < kMost_s);
        }
    }
    MESSAGE(cancelled << " sweeps cancelled, the slowest to hear it after " << worst_s << " s");
    CHECK(cancelled >= 6);
}

TEST_CASE("a spent budget leaves true bounds, tilted and in contact too") {
    int wide = 0;
    for (const Scene& scene : scenes()) {
        CAPTURE(scene.what);
        const SweptBody first{ready(scene.still), scene.still_at, nullptr};
        const SweptBody second{ready(scene.moving), {}, &scene.ride};
        SweepRequest request{.from = {0}, .to = scene.ride.knots.back().at};
        Progress progress;
        const Sweep full = sweep(first, second, request, progress);
        request.budget = 100;
        Progress again;
        const Sweep spent = sweep(first, second, request, again);
        wide += spent.tight ? 0 : 1;
        CHECK(spent.spans.front().from == request.from);
        CHECK(spent.spans.back().to == request.to);
        CHECK(spent.least_lower_mm <= full.least_upper_mm);
        CHECK(full.least_lower_mm <= spent.least_upper_mm);
        for (const ClearanceSpan& a : spent.spans) { // no span may contradict one that was found with time enough
            for (const ClearanceSpan& b : full.spans) {
                if (std::max(a.from, b.from) < std::min(a.to, b.to)) {
                    CHECK(a.lower_mm <= b.upper_mm);
                    CHECK(b.lower_mm <= a.upper_mm);
                }
            }
        }
    }
    CHECK(wide >= 4); // a plain contact is done within any budget
}

TEST_CASE("a prepared mesh takes 48 bytes a triangle at most") {
    for (const TriangleMesh& mesh : {wavy_sheet(100, 0), test::sphere_mesh(40, 100), test::torus_mesh(100, 1, 400, 20),
                                     test::cylinder_mesh(10, 500, 4000)}) {
        const auto triangles = static_cast<double>(mesh.triangles.size());
        const double bytes = static_cast<double>(ready(mesh)->bytes()) / triangles;
        CAPTURE(triangles);
        CAPTURE(bytes);
        CHECK(bytes <= 48);
        CHECK(bytes >= 4); // the order alone
    }
}

} // namespace evenclose
