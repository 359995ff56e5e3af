// viewer/ui/film_job.hpp: makes a film in the background.
#pragma once

#include "viewer/app/background_jobs.hpp"
#include "viewer/app/closely.hpp"

namespace evenclose {

struct App;

/// Drawn, packed and written; the window's state is looked at once, now. Hands over FilmEnded, but where it was cancelled.
[[nodiscard]] BackgroundJobs::Job film_job(const App& app, const FilmWanted& wanted);

} // namespace evenclose
