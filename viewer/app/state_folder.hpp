// viewer/app/state_folder.hpp: where the window keeps what is its own: unsaved work, the set-ups that were open last.
//
// XDG Base Directory Specification 0.8: $XDG_STATE_HOME, else ~/.local/state.
#pragma once

#include <filesystem>

namespace evenclose {

/// Made if it is not there, readable by its owner alone. Empty where no folder can be made: then nothing is kept.
[[nodiscard]] std::filesystem::path state_folder();

} // namespace evenclose
