#include "viewer/app/level_band.hpp"

#include <algorithm>
#include <cmath>

namespace evenclose {
namespace {

constexpr double kRoom = 1.6; // of the limit: so that its lines stand well within

} // namespace

LevelPairing level_pairing(const std::vector<LevelCurve>& curves) {
    LevelPairing pairing;
    for (const LevelCurve& curve : curves) {
        if (curve.counts && !curve.points.empty()) {
            pairing.counts = &curve;
        }
    }
    for (const LevelCurve& curve : curves) {
        if (pairing.counts != nullptr && !curve.counts && curve.source == LevelSource::unlinked &&
            !curve.points.empty()) {
            pairing.compared = &curve;
        }
    }
    return pairing;
}

double level_reach_mm(const LevelPairing& pairing, double limit_mm) {
    double reach = kRoom * std::max(limit_mm, 0.0);
    if (pairing.counts != nullptr) {
        for (const LevelPoint& point : pairing.counts->points) {
            reach = std::max({reach, std::abs(point.low_over_deck_mm), std::abs(point.high_over_deck_mm)});
        }
    }
    return reach > 0 && std::isfinite(reach) ? reach : 1.0;
}

LevelPoint level_at(const LevelCurve& curve, Travel at) {
    const auto after = std::upper_bound(curve.points.begin(), curve.points.end(), at,
                                        [](Travel t, const LevelPoint& point) { return t < point.at; });
    if (after == curve.points.begin()) {
        return curve.points.front();
    }
    if (after == curve.points.end()) {
        return curve.points.back();
    }
    const LevelPoint& a = *(after - 1);
    const LevelPoint& b = *after;
    const double share = (at.mm - a.at.mm) / (b.at.mm - a.at.mm);
    LevelPoint point = a;
    point.at = at;
    point.nominal_over_deck_mm = std::lerp(a.nominal_over_deck_mm, b.nominal_over_deck_mm, share);
    point.low_over_deck_mm = std::lerp(a.low_over_deck_mm, b.low_over_deck_mm, share);
    point.high_over_deck_mm = std::lerp(a.high_over_deck_mm, b.high_over_deck_mm, share);
    return point;
}

} // namespace evenclose
