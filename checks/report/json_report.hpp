// checks/report/json_report.hpp: findings as JSON for other programs; stable, see assets/schemas/findings.schema.json.
#pragma once

#include "checks/check_list.hpp"

#include <string>
#include <vector>

namespace evenclose {

/// Numbers are in mm and rad (or the finding's own unit, which is named), sentences in metric. A missing value is null.
/// The same results give the same bytes.
[[nodiscard]] std::string json_report(const Setup& setup, const CheckResults& results,
                                      const std::vector<std::string>& notes);

} // namespace evenclose
