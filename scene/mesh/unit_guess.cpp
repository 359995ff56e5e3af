#include "scene/mesh/unit_guess.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace evenclose {
namespace {

const char* word_for(LengthUnit unit) { return unit == LengthUnit::inch ? "inch" : name_of(unit); }

std::string number(double mm) { // three digits say enough of a size
    return mm >= 1000 && mm < 1e6 ? fmt::format("{:.0f}", mm) : fmt::format("{:.3g}", mm);
}

} // namespace

std::string extents_text(const Vec3& extents_mm) {
    return fmt::format("{} x {} x {} mm", number(extents_mm.x), number(extents_mm.y), number(extents_mm.z));
}

UnitGuess guess_unit(const Vec3& extents) {
    const double largest = std::max({extents.x, extents.y, extents.z});
    for (const LengthUnit unit : {LengthUnit::mm, LengthUnit::inch, LengthUnit::cm, LengthUnit::m}) {
        const double mm = largest * mm_per(unit);
        if (mm >= kLeastPlausible_mm && mm <= kMostPlausible_mm) {
            const std::string reason = unit == LengthUnit::mm
                                           ? extents_text(extents)
                                           : fmt::format("in mm it would be {}", extents_text(extents));
            return {unit, true, fmt::format("{} (guessed: {})", word_for(unit), reason)};
        }
    }
    return {LengthUnit::mm, false,
            fmt::format("mm (guessed, but {} is no plausible mold or press part in any unit: state the unit)",
                        extents_text(extents))};
}

} // namespace evenclose
