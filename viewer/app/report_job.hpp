// viewer/app/report_job.hpp: the report's work outside the window's own thread.
#pragma once

#include "viewer/app/background_jobs.hpp"
#include "viewer/app/order.hpp"

namespace evenclose {

/// Hands over ReportWritten, whether it came out or not.
[[nodiscard]] BackgroundJobs::Job report_job(const StartReport& order);

} // namespace evenclose
