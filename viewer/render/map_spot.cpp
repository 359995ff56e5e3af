#include "viewer/render/map_spot.hpp"

#include "checks/bend/bend.hpp"
#include "checks/cavity/cavity.hpp"

#include <fmt/format.h>
#include <glm/geometric.hpp>

#include <cmath>

namespace evenclose {
namespace {

/// Of places with values the one nearest to a spot in plan, or without one that of the greatest value by size.
class Choice {
public:
    explicit Choice(const std::optional<Vec3>& near_mm) : near_mm_(near_mm) {}
    void offer(const Vec3& at_mm, double value) {
        const double rank = near_mm_ ? -glm::length(Vec2(at_mm - *near_mm_)) : std::abs(value);
        if (!best_ || rank > rank_) {
            rank_ = rank;
            best_ = MapSpot{at_mm, value, {}};
        }
    }
    [[nodiscard]] const std::optional<MapSpot>& best() const { return best_; }

private:
    std::optional<Vec3> near_mm_;
    std::optional<MapSpot> best_;
    double rank_ = 0;
};

std::optional<MapSpot> gap_spot(const CavityMeasure& measure, UnitSystem units, const std::optional<Vec3>& near_mm) {
    Choice choice(near_mm);
    for (std::size_t i = 0; i < measure.map.samples.size(); ++i) {
        if (measure.map.samples[i].seen == Seen::faced) {
            choice.offer(measure.map.samples[i].at_mm, measure.map.excess_mm(i));
        }
    }
    std::optional<MapSpot> spot = choice.best();
    if (spot) {
        // What a print or a rule does not show is even.
        constexpr double kEven_mm = 0.005;
        spot->words = std::abs(spot->value) < kEven_mm
                          ? (near_mm ? "as the stack" : "as the stack everywhere")
                          : fmt::format("{}{}{}, too {}", near_mm ? "" : "worst: ", spot->value > 0 ? "+" : "",
                                        show_length(spot->value, units), spot->value > 0 ? "wide" : "narrow");
    }
    return spot;
}

std::optional<MapSpot> bend_spot(const BendMeasure& measure, UnitSystem units, const std::optional<Vec3>& near_mm) {
    Choice choice(near_mm);
    for (const auto* list : {&measure.lower.samples, &measure.lower.sharpest}) {
        for (const BendSample& sample : *list) {
            const Curvature& face = sample.face;
            if (face.known) {
                const bool hollow = std::abs(face.greatest) >= std::abs(face.least);
                choice.offer(sample.at_mm, std::copysign(surely_bent(face), hollow ? face.greatest : face.least));
            }
        }
    }
    std::optional<MapSpot> spot = choice.best();
    if (spot) {
        spot->words =
            std::abs(spot->value) < 1 / kFlatRadius_mm
                ? (near_mm ? "flat" : "flat everywhere")
                : fmt::format("{}R {}, {}", near_mm ? "" : "tightest: ", show_length(1 / std::abs(spot->value), units),
                              spot->value > 0 ? "hollow" : "crown");
    }
    return spot;
}

} // namespace

std::optional<MapSpot> map_spot(MapKind kind, const CheckResults& results, UnitSystem units,
                                const std::optional<Vec3>& near_mm, std::size_t opening) {
    const auto cavity = opening < results.cavities.size() ? results.cavities[opening] : results.cavity;
    const auto bend = opening < results.bends.size() ? results.bends[opening] : results.bend;
    if (kind == MapKind::cavity && cavity && cavity->not_measured.empty()) {
        return gap_spot(*cavity, units, near_mm);
    }
    if (kind == MapKind::bend && bend && bend->not_measured.empty()) {
        return bend_spot(*bend, units, near_mm);
    }
    return std::nullopt;
}

Camera camera_for_spot(const Vec3& at_mm, double wide_mm) {
    Camera camera;
    camera.parallel = true; // what stands between is behind the eye, or beside
    camera.up = {0, 0, 1};
    camera.target_mm = at_mm;
    const double away = 0.5 * wide_mm / std::tan(0.5 * camera.vertical_angle_rad);
    camera.eye_mm = at_mm + away * glm::normalize(Vec3{0.25, -0.75, 1.3});
    return camera;
}

} // namespace evenclose
