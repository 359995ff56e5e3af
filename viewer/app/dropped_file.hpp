// viewer/app/dropped_file.hpp: what a file means that is dropped on the window.
#pragma once

#include "viewer/app/app.hpp"

#include <string>
#include <vector>

namespace evenclose {

/// A mesh asks which half of the mold it is for. A mold document takes the place of the mold in the lowest opening, a press document that of the press; anything else is
/// opened as a set-up, which tells what is wrong with it.
[[nodiscard]] std::vector<Intent> intents_of_drop(const App& app, const std::string& file);

} // namespace evenclose
