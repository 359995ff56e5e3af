// scene/mesh/unit_guess.hpp: in which unit a mesh without one is, by the size of a plausible mold or press part.
//
// Plausible is a largest extent of 50 mm to 4 m: molds for decks, chair shells and sled runners, and the members of the
// press that takes them (common practice, no source). Tried in the order mm, inch, cm, m.
#pragma once

#include "scene/units/units.hpp"
#include "scene/vec.hpp"

#include <string>

namespace evenclose {

inline constexpr double kLeastPlausible_mm = 50;
inline constexpr double kMostPlausible_mm = 4000;

struct UnitGuess {
    LengthUnit unit = LengthUnit::mm;
    bool plausible = false; // false: no unit makes it so, and mm is as good as any
    std::string note;       // "inch (guessed: in mm it would be 36 x 8 x 3 mm)"
};

/// Needs: finite extents, in the file's numbers.
[[nodiscard]] UnitGuess guess_unit(const Vec3& extents);

/// "760 x 260 x 80 mm", for notes and messages.
[[nodiscard]] std::string extents_text(const Vec3& extents_mm);

} // namespace evenclose
