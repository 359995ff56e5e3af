// viewer/ui/words.hpp: numbers and verdicts as the window writes them. Pure, tested without a screen.
#pragma once

#include "checks/finding.hpp"
#include "checks/report/loud.hpp"
#include "scene/units/units.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace evenclose {

/// "3.2 mm", "1.25 mrad", "4"; an en dash where there is no number.
[[nodiscard]] std::string number_words(const std::optional<double>& value, const std::string& unit, UnitSystem units);
/// "at 12 mm", "70 – 110 mm", "" where a finding has no place on the stroke.
[[nodiscard]] std::string travel_words(const std::optional<TravelInterval>& travel, UnitSystem units);
/// "760 × 260 × 109", whole millimetres; inches with their fractions.
[[nodiscard]] std::string size_words(const Vec3& size_mm, UnitSystem units);
/// "1 234 567"
[[nodiscard]] std::string grouped(std::size_t count);
/// The last part of a path.
[[nodiscard]] std::string file_name(const std::string& path);
/// Whether words on the screen are a number, mostly with a unit: "130.3 mm", "-1/16 in", "760 × 260 × 109".
[[nodiscard]] bool is_number_words(std::string_view words);

} // namespace evenclose
