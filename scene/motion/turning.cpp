#include "scene/motion/turning.hpp"

#include <algorithm>
#include <numbers>

namespace evenclose {
namespace {

// Right at its end a linkage stands still and asks for no end of turns.
constexpr double kBelowTheEnd = 1 - 1e-6;

} // namespace

double turned_rad(const Turning& turning, double risen_mm) {
    const double most = kBelowTheEnd * most_rise_mm(turning.law);
    const double out = std::clamp(turning.parked_mm + risen_mm, 0.0, std::max(0.0, most));
    const double turns = drive_for(turning.law, out) - drive_for(turning.law, turning.parked_mm);
    return (turning.backwards ? -2 : 2) * std::numbers::pi * turns;
}

} // namespace evenclose
