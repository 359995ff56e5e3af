// checks/phrase.hpp: sentences that hold lengths, forces and pressures, shown in metric units or inches when somebody
// reads them.
//
// A finding is made once; the reader's unit may change afterwards. So a sentence holds marks, not numbers as text:
// "The platen tilts {mm:1.2} over the deck" becomes "... 1.2 mm ..." or "... ~3/64 in ...".
#pragma once

#include "scene/units/units.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace evenclose {

/// Marks to be put into a sentence.
[[nodiscard]] std::string length_mark(double mm);
[[nodiscard]] std::string force_mark(double newton);
[[nodiscard]] std::string pressure_mark(double mpa);

/// "a", "a and b", "a, b and c".
[[nodiscard]] std::string listed(const std::vector<std::string>& names);

/// The sentence with every mark shown in `system`. Text without marks is returned as it is.
[[nodiscard]] std::string shown(std::string_view sentence, UnitSystem system = UnitSystem::metric);

} // namespace evenclose
