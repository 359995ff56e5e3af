// tests/bench/clearance_bench.cpp: the clearance engine against FCL, in one run: name ours_s peer_s ratio.
//
// The peer is FCL's distance() used in the strongest certified way for a pure translation: the travel is halved until the
// motion bound (no point moves farther than the travel) brackets the distance to 0.05 mm; building its hierarchies is
// counted, as is building ours. Peers that would take minutes are left out unless asked for.
//
//   clearance_bench [--quick] [triangles a half ...]      default: 20000 200000
#include "checks/clearance/sweep.hpp"
#include "tests/bench/scenes.hpp"

#include <fcl/fcl.h>
#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cstdlib>
#include <string>
#include <vector>

using namespace evenclose;

namespace {

double seconds_since(std::chrono::steady_clock::time_point from) {
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - from).count();
}

using FclModel = fcl::BVHModel<fcl::OBBRSSd>;

std::shared_ptr<FclModel> fcl_model(const TriangleMesh& mesh) {
    std::vector<fcl::Vector3d> corners;
    std::vector<fcl::Triangle> triangles;
    for (const Vec3& v : mesh.vertices_mm) {
        corners.emplace_back(v.x, v.y, v.z);
    }
    for (const TriangleCorners& t : mesh.triangles) {
        triangles.emplace_back(t[0], t[1], t[2]);
    }
    auto model = std::make_shared<FclModel>();
    model->beginModel();
    model->addSubModel(corners, triangles);
    model->endModel();
    return model;
}

class FclPair {
public:
    FclPair(const TriangleMesh& still, const TriangleMesh& moving, double lowered_mm)
        : still_(fcl_model(still)), moving_(fcl_model(moving)), lowered_mm_(lowered_mm) {}

    [[nodiscard]] double distance(double travel_mm) const {
        fcl::Transform3d pose = fcl::Transform3d::Identity();
        pose.translation().z() = travel_mm - lowered_mm_;
        fcl::CollisionObjectd a(still_);
        fcl::CollisionObjectd b(moving_, pose);
        fcl::DistanceRequestd request;
        fcl::DistanceResultd result;
        return std::max(0.0, fcl::distance(&a, &b, request, result));
    }

    /// Halves until |d(from) - d(to)| and the motion bound leave 0.05 mm, wherever the distance is under 25 mm.
    void bracket(double from, double to, double at_from, double at_to) {
        const double lower = 0.5 * (at_from + at_to - (to - from)); // both bounds meet there
        const double upper = 0.5 * (at_from + at_to + (to - from));
        if (lower >= 25.0 || upper - std::max(0.0, lower) <= 0.05) {
            return;
        }
        const double middle = 0.5 * (from + to);
        const double at_middle = distance(middle);
        bracket(from, middle, at_from, at_middle);
        bracket(middle, to, at_middle, at_to);
    }

private:
    std::shared_ptr<FclModel> still_, moving_;
    double lowered_mm_;
};

void say(const std::string& name, double ours, double peer) {
    fmt::print("{:<34} {:>9.3f} {:>9.3f} {:>8.1f}\n", name, ours, peer, peer / ours);
    std::fflush(stdout);
}

/// Both are drawn closed; the ride starts a stroke lower.
void profile(const std::string& name, const TriangleMesh& still, const TriangleMesh& moving) {
    const auto ours_from = std::chrono::steady_clock::now();
    const Ride ride = bench::closing_ride();
    const SharedMesh a = std::make_shared<const TriangleMesh>(still);
    const SharedMesh b = std::make_shared<const TriangleMesh>(moving);
    Progress progress;
    SweepRequest request;
    request.to = {bench::kStroke_mm};
    const Sweep swept = sweep({prepare(a), {}, nullptr}, {prepare(b), {}, &ride}, request, progress);
    const double ours = seconds_since(ours_from);

    const auto peer_from = std::chrono::steady_clock::now();
    FclPair pair(still, moving, bench::kStroke_mm);
    const double at_open = pair.distance(0);
    const double at_closed = pair.distance(bench::kStroke_mm);
    pair.bracket(0, bench::kStroke_mm, at_open, at_closed);
    say(name + " profile", ours, seconds_since(peer_from));
    if (at_closed < swept.least_lower_mm - 1e-6 || at_closed > swept.spans.back().upper_mm + 1e-6) {
        fmt::print("  the referee disagrees at closed: {} against {} to {}\n", at_closed, swept.least_lower_mm,
                   swept.spans.back().upper_mm);
        std::exit(1); // NOLINT(concurrency-mt-unsafe)
    }
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
    if (sizes.empty()) {
        sizes = quick ? std::vector<std::size_t>{20'000} : std::vector<std::size_t>{20'000, 200'000};
    }
    fmt::print("{:<34} {:>9} {:>9} {:>8}\n", "name", "ours_s", "peer_s", "ratio");
    profile("frame", bench::press_frame(), bench::mold_half(20'000, false));
    for (const std::size_t size : sizes) {
        profile(fmt::format("mold 2 x {}", size), bench::mold_half(size, true), bench::mold_half(size, false));
    }
    return 0;
}
