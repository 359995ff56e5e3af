#include "viewer/app/travel_ticks.hpp"

#include <fmt/format.h>

#include <array>
#include <cmath>
#include <numeric>

namespace evenclose {
namespace {

struct Step {
    double named_mm;
    int parts; // finer ticks in each named step
};

Step metric_step(double least_mm) {
    double decade = std::pow(10.0, std::floor(std::log10(least_mm)));
    if (decade < 1.0) {
        decade = 1.0; // a shop reads no ticks finer than a millimetre
    }
    for (const auto& [factor, parts] : {std::pair{1.0, 5}, std::pair{2.0, 4}, std::pair{5.0, 5}}) {
        if (factor * decade >= least_mm) {
            return {factor * decade, parts};
        }
    }
    return {10.0 * decade, 5};
}

Step inch_step(double least_mm) {
    // Steps that a folding rule has; above a foot in whole feet of inches.
    static constexpr std::array<std::pair<double, int>, 10> steps{
        {{0.125, 2}, {0.25, 4}, {0.5, 4}, {1.0, 4}, {2.0, 4}, {4.0, 4}, {6.0, 6}, {12.0, 4}, {24.0, 4}, {60.0, 5}}};
    for (const auto& [inches, parts] : steps) {
        if (inches * kMmPerInch >= least_mm) {
            return {inches * kMmPerInch, parts};
        }
    }
    return {120.0 * kMmPerInch * std::ceil(least_mm / (120.0 * kMmPerInch)), 5};
}

/// A whole number of eighths of an inch as a shop writes it.
std::string inch_text(double mm) {
    const auto eighths = static_cast<long>(std::lround(mm / kMmPerInch * 8.0));
    const long whole = eighths / 8;
    const long rest = eighths % 8;
    if (rest == 0) {
        return fmt::format("{}", whole);
    }
    const long common = std::gcd(rest, 8L);
    const std::string fraction = fmt::format("{}/{}", rest / common, 8 / common);
    return whole == 0 ? fraction : fmt::format("{} {}", whole, fraction);
}

} // namespace

std::vector<TravelTick> travel_ticks(Travel to, double length, double spacing, UnitSystem units) {
    const double least_mm = to.mm * spacing / length;
    const Step step = units == UnitSystem::metric ? metric_step(least_mm) : inch_step(least_mm);
    const double fine_mm = step.named_mm / step.parts;

    std::vector<TravelTick> ticks;
    // A tick that rounding pushes a hair past the end still belongs to it.
    for (int i = 0; i * fine_mm <= to.mm * (1.0 + 1e-9); ++i) {
        TravelTick tick{{i * fine_mm}, i % step.parts == 0, {}};
        if (tick.named) {
            tick.text = units == UnitSystem::metric ? fmt::format("{:.0f}", tick.at.mm) : inch_text(tick.at.mm);
        }
        ticks.push_back(std::move(tick));
    }
    return ticks;
}

} // namespace evenclose
