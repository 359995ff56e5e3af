// viewer/app/plan_job.hpp: the plan's work outside the window's own thread and on the disk.
#pragma once

#include "viewer/app/background_jobs.hpp"
#include "viewer/app/order.hpp"

namespace evenclose {

/// Makes the plan and hands it over as PlanMade, or what broke it off as PlanFailed.
[[nodiscard]] BackgroundJobs::Job plan_job(const StartPlan& order);

/// Writes every way into a new folder (`order.folder`, or that with a number behind it where it is there already):
/// PlanWritten, or PlanNotWritten.
[[nodiscard]] Intent written_way(const WritePlan& order);

} // namespace evenclose
