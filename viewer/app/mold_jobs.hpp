// viewer/app/mold_jobs.hpp: the window's long jobs for the folder of molds: looking through it, asking the press, and the
// whole check of one mold for a comparison.
#pragma once

#include "viewer/app/background_jobs.hpp"
#include "viewer/app/order.hpp"
#include "viewer/render/palette.hpp"

namespace evenclose {

/// Looks through the folder until it is cancelled: hands over MoldsListed whenever what lies there is otherwise than told
/// before, MoldLooked for each mold whose picture is not known, those in sight first. Faults: all are told in the listing or
/// in a look; where nothing can draw, looks have no picture.   Threads: any.
[[nodiscard]] BackgroundJobs::Job mold_looks_job(const StartMoldLooks& order, const Palette& palette);

/// `fit` of each mold, those in sight first: MoldFitted as each is known, MoldFitsEnded at the end.   Threads: any.
[[nodiscard]] BackgroundJobs::Job mold_fits_job(const StartMoldFits& order);

/// Hands over MoldCompared.   Threads: any.
[[nodiscard]] BackgroundJobs::Job comparison_job(const StartComparison& order);

/// The folder as it stands. What is known from `before` and was not written since is not read again.   Threads: any.
[[nodiscard]] MoldListing list_molds(const std::filesystem::path& folder, const MoldListing& before);

} // namespace evenclose
