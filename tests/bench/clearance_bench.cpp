// tests/bench/clearance_bench.cpp: the clearance engine against its peers (peers.hpp), in one run: name ours_s peer_s ratio.
//
// Medians; a peer that takes seconds is timed once. Where building is counted it is counted for both. Each answer of the
// peer's is held against ours: a benchmark of wrong answers says nothing.
//
//   clearance_bench [--quick] [triangles a half ...]      default: 20000 200000 1000000, and 2000000 for ours alone
#include "checks/clearance/clearance_mesh.hpp"
#include "checks/clearance/first_contact.hpp"
#include "checks/clearance/sweep.hpp"
#include "tests/bench/peers.hpp"
#include "tests/bench/scenes.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdlib>
#include <functional>
#include <string>
#include <vector>

using namespace evenclose;

namespace {

constexpr double kTightness_mm = 0.05;
constexpr double kInterest_mm = 25;
constexpr double kHalfDegree = 0.00872686779; // as a slope
constexpr double kContactStroke_mm = 165;     // 15 mm past closed: the faces meet on the way

double once(const std::function<void()>& work) {
    const auto from = std::chrono::steady_clock::now();
    work();
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - from).count();
}

/// Median of up to five, of fewer when one takes long.
double timed(const std::function<void()>& work) {
    std::vector<double> times{once(work)};
    const int more = times[0] > 4 ? 0 : times[0] > 0.7 ? 2 : 4;
    for (int i = 0; i < more; ++i) {
        times.push_back(once(work));
    }
    std::nth_element(times.begin(), times.begin() + static_cast<std::ptrdiff_t>(times.size() / 2), times.end());
    return times[times.size() / 2];
}

void say(const std::string& name, double ours, double peer) {
    fmt::print("{:<44} {:>9.4f} {:>9.4f} {:>8.1f}\n", name, ours, peer, peer / ours);
    std::fflush(stdout);
}
void say(const std::string& name, double ours) {
    fmt::print("{:<44} {:>9.4f} {:>9} {:>8}\n", name, ours, "-", "-");
    std::fflush(stdout);
}

void hold(bool agrees, const std::string& what) {
    if (!agrees) {
        fmt::print("the peer disagrees: {}\n", what);
        std::exit(1); // NOLINT(concurrency-mt-unsafe)
    }
}

struct Scene {
    std::string name;
    SharedMesh still, moving;
};

Sweep swept(const SharedClearanceMesh& still, const SharedClearanceMesh& moving, const Ride& ride) {
    Progress progress;
    SweepRequest request;
    request.to = ride.knots.back().at;
    request.interest_mm = kInterest_mm;
    request.tightness_mm = kTightness_mm;
    return sweep({still, {}, nullptr}, {moving, {}, &ride}, request, progress);
}

double profile_with_build(const Scene& scene, double slope, Sweep& answer) {
    const Ride ride = bench::closing_ride(slope);
    return timed([&] { answer = swept(prepare(scene.still), prepare(scene.moving), ride); });
}

void profile(const Scene& scene) {
    Sweep answer;
    const double ours = profile_with_build(scene, 0, answer);
    hold(answer.tight, "ours ran out of its budget");
    const double peer = timed([&] {
        bench::FclPair(*scene.still, *scene.moving, bench::kStroke_mm)
            .bracket(0, bench::kStroke_mm, kTightness_mm, kInterest_mm);
    });
    const bench::FclPair pair(*scene.still, *scene.moving, bench::kStroke_mm);
    for (const ClearanceSpan& span : {answer.spans.back(), answer.spans[answer.spans.size() / 2]}) {
        const double seen = pair.distance(span.to.mm);
        hold(seen >= span.lower_mm - 1e-6 && (seen >= kInterest_mm || seen <= span.upper_mm + 1e-6),
             fmt::format("{} mm at {} mm of travel, against {} to {}", seen, span.to.mm, span.lower_mm, span.upper_mm));
    }
    say(scene.name + ", profile", ours, peer);
}

/// No peer covers a range of tilt: held against our own untilted time.
void tilted(const Scene& scene) {
    Sweep level;
    Sweep tilted;
    const double without = profile_with_build(scene, 0, level);
    const double with = profile_with_build(scene, kHalfDegree, tilted);
    hold(tilted.tight && tilted.least_lower_mm <= level.least_lower_mm, "tilting cannot widen the least gap");
    say(scene.name + ", +-0.5 deg (peer: ours level)", with, without);
}

void pose_and_contact(const Scene& scene) {
    const SharedClearanceMesh still = prepare(scene.still);
    const SharedClearanceMesh moving = prepare(scene.moving);
    const bench::FclPair pair(*scene.still, *scene.moving, bench::kStroke_mm);
    PoseClearance seen;
    const double ours = timed([&] {
        seen = clearance_at({still, {}, nullptr}, {moving, {}, nullptr}, {0}, {}, kInterest_mm, kTightness_mm);
    });
    double distance = 0;
    const double peer = timed([&] { distance = pair.distance(bench::kStroke_mm); });
    hold(seen.distance_mm >= distance - 1e-6 && seen.distance_mm <= distance + kTightness_mm,
         fmt::format("{} mm at closed, against {}", distance, seen.distance_mm));
    say(scene.name + ", pose, even gap", ours, peer);

    Ride ride = bench::closing_ride();
    ride.knots.back() = {{kContactStroke_mm}, kContactStroke_mm - bench::kStroke_mm, {}};
    SweepRequest request;
    request.to = {kContactStroke_mm};
    FirstContact contact;
    const double ours_contact = timed([&] {
        Progress progress;
        contact = first_contact({still, {}, nullptr}, {moving, {}, &ride}, request, progress);
    });
    double at = 0;
    const double peer_contact =
        timed([&] { at = pair.first_contact(0, kContactStroke_mm, request.contact_tightness_mm); });
    hold(contact.tight && std::abs(at - contact.touches_by.mm) < 0.05,
         fmt::format("first contact at {} against {}", at, contact.touches_by.mm));
    say(scene.name + ", first contact", ours_contact, peer_contact);
    const double stepped = timed([&] { at = pair.stepped(0, kContactStroke_mm, 0.5); });
    hold(at >= contact.clear_until.mm, "a step collided where ours is clear");
    say(scene.name + ", first contact (peer: 0.5 mm steps)", ours_contact, stepped);
    say(scene.name + ", memory, bytes a triangle",
        static_cast<double>(still->bytes() + moving->bytes()) /
            static_cast<double>(scene.still->triangles.size() + scene.moving->triangles.size()),
        static_cast<double>(pair.bytes()) /
            static_cast<double>(scene.still->triangles.size() + scene.moving->triangles.size()));
}

void building(const Scene& scene) {
    const double ours = timed([&] {
        const SharedClearanceMesh first = prepare(scene.still);
        const SharedClearanceMesh second = prepare(scene.moving);
    });
    const double peer = timed([&] { bench::build_with_embree(*scene.still, *scene.moving); });
    say(scene.name + ", building (peer: Embree, SAH)", ours, peer);
}

Scene mold(std::size_t triangles) {
    return {fmt::format("mold 2 x {}", triangles),
            std::make_shared<const TriangleMesh>(bench::mold_half(triangles, true)),
            std::make_shared<const TriangleMesh>(bench::mold_half(triangles, false))};
}

} // namespace

int main(int argc, char** argv) {
    std::vector<std::size_t> sizes;
    bool quick = false;
    for (int i = 1; i < argc; ++i) {
        if (std::string(argv[i]) == "--quick") {
            quick = true;
        } else {
            sizes.push_back(std::strtoul(argv[i], nullptr, 10));
        }
    }
    const bool chosen = !sizes.empty();
    if (!chosen) {
        sizes = quick ? std::vector<std::size_t>{20'000} : std::vector<std::size_t>{20'000, 200'000, 1'000'000};
    }
    fmt::print("{:<44} {:>9} {:>9} {:>8}\n", "name", "ours_s", "peer_s", "ratio");
    profile({"frame", std::make_shared<const TriangleMesh>(bench::press_frame()),
             std::make_shared<const TriangleMesh>(bench::mold_half(20'000, false))});
    double before = 0;
    for (const std::size_t size : sizes) {
        const Scene scene = mold(size);
        profile(scene);
        tilted(scene);
        pose_and_contact(scene);
        building(scene);
    }
    // How time grows as triangles double: the peer is half as many.
    for (const std::size_t size : chosen || quick ? std::vector<std::size_t>{200'000, 400'000}
                                                  : std::vector<std::size_t>{500'000, 1'000'000, 2'000'000}) {
        Sweep answer;
        const double now = profile_with_build(mold(size), 0, answer);
        const std::string name = fmt::format("mold 2 x {}, profile, ours alone", size);
        before > 0 ? say(name + " (peer: half)", now, before) : say(name, now);
        before = now;
    }
    return 0;
}
