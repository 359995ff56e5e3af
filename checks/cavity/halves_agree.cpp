#include "checks/cavity/halves_agree.hpp"

#include "checks/cavity/height_map.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>
#include <vector>

namespace evenclose {
namespace {

// As many points along the longer side: enough to tell shapes apart, quick even for a dozen comparisons.
constexpr double kAcross = 200;
// Forming faces that agree change their gap along the stroke by the stack's thickness over cos of the slope: a few mm at
// most on a steep kick. Below this nobody needs a slip to explain it.
constexpr double kPlain_mm = 1.5;
// A slip explains what is wrong when undoing it leaves less than this share of the change.
constexpr double kExplains = 0.35;
constexpr double kCovers = 0.75;

struct Evenness {
    double change_mm = 0; // 10th to 90th percentile of the gap
    double share = 0;     // of the lower half's seen points that have a gap
};

Evenness evenness(const HeightMap& lower, const TriangleMesh& upper) {
    const HeightMap above = height_map(upper, lower.grid, SeenFrom::below);
    std::vector<double> gaps;
    std::size_t seen = 0;
    for (std::size_t i = 0; i < lower.grid.size(); ++i) {
        if (lower.seen(i)) {
            ++seen;
            if (above.seen(i)) {
                gaps.push_back(above.z_mm(i) - lower.z_mm(i));
            }
        }
    }
    if (gaps.empty()) {
        return {};
    }
    const auto at = [&](double share) {
        const auto place = gaps.begin() + static_cast<std::ptrdiff_t>(share * static_cast<double>(gaps.size() - 1));
        std::nth_element(gaps.begin(), place, gaps.end());
        return *place;
    };
    return {at(0.9) - at(0.1), static_cast<double>(gaps.size()) / static_cast<double>(std::max<std::size_t>(1, seen))};
}

/// Each coordinate times a factor, about `about_mm`.
TriangleMesh stretched(const TriangleMesh& mesh, const Vec3& factor, const Vec3& about_mm) {
    TriangleMesh result = mesh;
    for (Vec3& v : result.vertices_mm) {
        v = about_mm + factor * (v - about_mm);
    }
    return result;
}

struct Candidate {
    HalfSlip slip;
    Vec3 factor;
};

struct Unit {
    double factor;
    const char* reads; // what the upper half seems to be in, when the lower one is right
};
constexpr std::array<Unit, 6> kUnits{{{25.4, "it seems to be in inches"},
                                      {1 / 25.4, "it seems to be taken as inches and be in millimetres"},
                                      {10, "it seems to be in centimetres"},
                                      {0.1, "it seems to be taken as centimetres and be in millimetres"},
                                      {1000, "it seems to be in metres"},
                                      {0.001, "it seems to be taken as metres and be in millimetres"}}};

} // namespace

HalvesAgreement compare_halves(const TriangleMesh& lower, const TriangleMesh& upper) {
    HalvesAgreement result;
    if (lower.empty() || upper.empty()) {
        return result;
    }
    result.inside_out = signed_volume_mm3(upper) < 0;
    const Box low = bounds_of(lower);
    const Box up = bounds_of(upper);
    const double step = std::max(low.size_mm().x, low.size_mm().y) / kAcross;
    if (!(step > 0)) {
        return result;
    }
    const PlanGrid grid = grid_over({low.low_mm.x, low.low_mm.y}, {low.high_mm.x, low.high_mm.y}, step);
    const HeightMap seen = height_map(lower, grid, SeenFrom::above);
    const Evenness as_is = evenness(seen, upper);
    result.as_is_mm = as_is.change_mm;
    result.share = as_is.share;
    if (as_is.change_mm < kPlain_mm && as_is.share > kCovers) {
        return result;
    }

    // A wrong unit shows in the size alone: within a tenth, since halves of a mold need not be quite alike.
    const Vec3 ratio = low.size_mm() / glm::max(up.size_mm(), Vec3{1e-9});
    const double size_ratio = std::sqrt(ratio.x * ratio.y);
    for (const Unit& unit : kUnits) {
        if (std::abs(size_ratio / unit.factor - 1) < 0.15 && std::abs(ratio.x / unit.factor - 1) < 0.3 &&
            std::abs(ratio.y / unit.factor - 1) < 0.3) {
            result.slip = HalfSlip::unit;
            result.factor = unit.factor;
            result.undone_mm = evenness(seen, stretched(upper, Vec3{unit.factor}, Vec3{0.0})).change_mm;
            return result;
        }
    }

    const std::array<Candidate, 5> candidates{{{HalfSlip::mirrored_x, {-1, 1, 1}},
                                               {HalfSlip::mirrored_y, {1, -1, 1}},
                                               {HalfSlip::upside_down_x, {1, -1, -1}},
                                               {HalfSlip::upside_down_y, {-1, 1, -1}},
                                               {HalfSlip::end_for_end, {-1, -1, 1}}}};
    double best = kExplains * std::max(kPlain_mm, as_is.change_mm);
    for (const Candidate& candidate : candidates) {
        const Evenness undone = evenness(seen, stretched(upper, candidate.factor, up.centre_mm()));
        // Alike within a tenth counts as a tie: the earlier, more usual slip is told.
        if (undone.share > std::min(kCovers, as_is.share) &&
            undone.change_mm < (result.slip == HalfSlip::none ? 1.0 : 0.9) * best) {
            best = undone.change_mm;
            result.slip = candidate.slip;
            result.undone_mm = undone.change_mm;
        }
    }
    return result;
}

std::string told(const HalvesAgreement& agreement) {
    switch (agreement.slip) {
    case HalfSlip::none:
        return "";
    case HalfSlip::unit: {
        const auto unit = std::find_if(kUnits.begin(), kUnits.end(),
                                       [&](const Unit& known) { return known.factor == agreement.factor; });
        const double times = std::max(agreement.factor, 1 / agreement.factor);
        return fmt::format("The upper half is {:g} times too {} against the lower: {}", times,
                           agreement.factor > 1 ? "small" : "large", unit == kUnits.end() ? "" : unit->reads);
    }
    case HalfSlip::mirrored_x:
        return "One half is mirrored: left and right (X) are exchanged between upper and lower";
    case HalfSlip::mirrored_y:
        return "One half is mirrored: front and back (Y) are exchanged between upper and lower";
    case HalfSlip::upside_down_x:
        return "The upper half is upside down: turned half round about X, its back faces the stack";
    case HalfSlip::upside_down_y:
        return "The upper half is upside down: turned half round about Y, its back faces the stack";
    case HalfSlip::end_for_end:
        return "The upper half stands end for end: turned half round about the stroke";
    }
    return "";
}

std::string remedy(const HalvesAgreement& agreement) {
    switch (agreement.slip) {
    case HalfSlip::none:
        return "";
    case HalfSlip::unit:
        return fmt::format("State the upper half's \"unit\", or export it {:g} times as large.", agreement.factor);
    case HalfSlip::mirrored_x:
    case HalfSlip::mirrored_y:
        return agreement.inside_out
                   ? "Export the upper half again without mirroring: its triangles are inside out, so it is that one."
                   : "Export the mirrored half again without mirroring; look at both to see which one it is.";
    case HalfSlip::upside_down_x:
        return "Give the upper half \"flip\": true, or export it as it stands in the closed mold.";
    case HalfSlip::upside_down_y:
        return "Give the upper half \"flip\": true and \"turn\": 180, or export it as it stands in the closed mold.";
    case HalfSlip::end_for_end:
        return "Give the upper half \"turn\": 180, or export it as it stands in the closed mold.";
    }
    return "";
}

} // namespace evenclose
