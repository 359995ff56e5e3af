// checks/report/json_of_finding.hpp: one finding as JSON, as every report of ours holds it
// (assets/schemas/findings.schema.json, definitions/finding).
#pragma once

#include "checks/finding.hpp"

#include <nlohmann/json.hpp>

#include <optional>

namespace evenclose {

using Json = nlohmann::ordered_json;

/// null for none, and for what JSON cannot hold.
[[nodiscard]] Json number_or_null(const std::optional<double>& value);
/// Sentences in metric.
[[nodiscard]] Json json_of(const Finding& finding);

} // namespace evenclose
