// tests/viewer/window/unsaved_work.hpp: an edit that is not saved, and where the window keeps it against a crash.
#pragma once

#include "tests/viewer/window/window_session.hpp"

#include <filesystem>
#include <string>

namespace evenclose::test {

/// The head's underside of the box press becomes `to`, by keys; checked, not saved.
void edit_underside(WindowSession& window, const std::string& to);

/// `home`: as XDG_STATE_HOME.
[[nodiscard]] bool work_is_kept(const std::filesystem::path& home);
/// Kept two seconds after the edit, by a window that nobody touches; true as soon as it is.
[[nodiscard]] bool work_is_kept_soon(const std::filesystem::path& home);

} // namespace evenclose::test
