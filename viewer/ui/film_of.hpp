// viewer/ui/film_of.hpp: what the window shows as a film: turned once round, or over the stroke.
#pragma once

#include "viewer/app/app.hpp"
#include "viewer/export/film_file.hpp"

namespace evenclose {

/// Of the state as it is now, which is copied; for any thread. Without what is written over the picture.
/// Needs: an assembly.
[[nodiscard]] Film film_of(const App& app, const FilmWanted& wanted);

} // namespace evenclose
