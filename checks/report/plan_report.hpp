// checks/report/plan_report.hpp: a plan for people, as JSON and as CSV.
#pragma once

#include "checks/plan/plan.hpp"
#include "checks/plan/plan_documents.hpp"
#include "checks/report/text_report.hpp"

#include <string>

namespace evenclose {

/// `written`: where the documents are, if they were written.
[[nodiscard]] std::string plan_text(const Plan& plan, const PlanRequest& request, const WrittenPlan* written,
                                    const TextReportStyle& style = {});
/// assets/schemas/plan.schema.json. The same plan gives the same bytes.
[[nodiscard]] std::string plan_json(const Plan& plan, const PlanRequest& request, const WrittenPlan* written);
/// A heading and a line for each choice. Metric.
[[nodiscard]] std::string plan_csv(const Plan& plan, const WrittenPlan* written);

} // namespace evenclose
