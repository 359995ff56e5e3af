// checks/phrase.hpp: sentences that hold lengths, shown in millimetres or inches when somebody reads them.
//
// A finding is made once; the reader's unit may change afterwards. So a sentence holds marks, not numbers as text:
// "The platen tilts {mm:1.2} over the deck" becomes "... 1.2 mm ..." or "... ~3/64 in ...".
#pragma once

#include "scene/units/units.hpp"

#include <string>
#include <string_view>

namespace evenclose {

/// A mark for a length, to be put into a sentence.
[[nodiscard]] std::string length_mark(double mm);

/// The sentence with every mark shown in `system`. Text without marks is returned as it is.
[[nodiscard]] std::string shown(std::string_view sentence, UnitSystem system = UnitSystem::metric);

} // namespace evenclose
