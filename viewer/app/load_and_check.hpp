// viewer/app/load_and_check.hpp: the window's long job: reads a set-up, puts its bodies together, runs every check.
#pragma once

#include "viewer/app/background_jobs.hpp"
#include "viewer/app/order.hpp"

#include <string>

namespace evenclose {

/// Hands over SetupRead as soon as the press can be seen, then Checked; or SetupFaulty with all faults of the documents.
/// Faults: as the checks throw. Threads: any; `progress` may be cancelled from another.
/// `texts` stand in for files.
void load_and_check(const std::string& file, const DocumentTexts& texts, Generation generation, Progress& progress,
                    const BackgroundJobs::HandOver& hand_over);

/// The same as a job; hands over JobFailed where it throws.
[[nodiscard]] BackgroundJobs::Job check_job(const StartJob& order);

} // namespace evenclose
