// checks/report/cautions.hpp: what must stand next to the numbers where a press can hurt someone (REFERENCE 12).
#pragma once

#include <string>
#include <vector>

namespace evenclose {

/// Short sentences, the one that matters at every closing first.
[[nodiscard]] const std::vector<std::string>& cautions();

/// What the numbers are and are not: defers to standards, local codes and licensed practice.
[[nodiscard]] const std::string& disclaimer();

} // namespace evenclose
