// checks/report/fit_report.hpp: what `fit` found, a line a mold: for people, as JSON and as CSV.
#pragma once

#include "checks/fit/fit.hpp"
#include "checks/report/text_report.hpp"

#include <string>
#include <vector>

namespace evenclose {

/// A table, in the order of the molds; then how many fit.
[[nodiscard]] std::string fit_text(const Setup& like, const std::vector<Fit>& fits, const TextReportStyle& style = {});
/// assets/schemas/fit.schema.json. The same fits give the same bytes.
[[nodiscard]] std::string fit_json(const Setup& like, const std::vector<Fit>& fits);
/// A heading and a line a mold: file, mold, fits, verdict, check, value, limit, margin, unit, what, do. Metric.
[[nodiscard]] std::string fit_csv(const std::vector<Fit>& fits);

} // namespace evenclose
