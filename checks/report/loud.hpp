// checks/report/loud.hpp: a verdict as it stands at the head of a report, a row or the window.
#pragma once

#include "checks/finding.hpp"

#include <string>

namespace evenclose {

/// "NO-GO", "MARGINAL", "GO", "NOT CHECKED"
[[nodiscard]] std::string loud(Verdict verdict);

} // namespace evenclose
