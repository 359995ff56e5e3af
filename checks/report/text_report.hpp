// checks/report/text_report.hpp: findings as plain text that a shop person reads top to bottom.
#pragma once

#include "checks/check_list.hpp"
#include "scene/units/units.hpp"

#include <string>
#include <vector>

namespace evenclose {

struct TextReportStyle {
    UnitSystem units = UnitSystem::metric;
    int width = 100; // columns; nothing is cut, long words stand over
};

/// Verdict first, then the findings worst first, each with number, limit, where, why and remedy; what goes is told in a
/// line each. Cautions last.
[[nodiscard]] std::string text_report(const Setup& setup, const CheckResults& results,
                                      const std::vector<std::string>& notes, const TextReportStyle& style = {});

/// The molds of a set-up by name, each once, for a headline.
[[nodiscard]] std::string molds_of(const Setup& setup);

/// "2 no-go, 1 marginal, 9 go": only what there is.
[[nodiscard]] std::string tally(const std::vector<Finding>& findings);

/// `text` broken at blanks so that no line is longer than `width`; every line begins with `indent` blanks.
[[nodiscard]] std::string wrapped(const std::string& text, int indent, int width);

} // namespace evenclose
