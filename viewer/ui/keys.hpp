// viewer/ui/keys.hpp: which key means what. Pure, tested without a screen.
//
// Letters and signs are taken as the characters that the keyboard's layout makes of them; what makes no character (and
// the digits and the space bar, which a layout may put behind Shift) as keys.
#pragma once

#include "viewer/app/app.hpp"

#include <optional>

namespace evenclose {

/// `key` and `mods` as GLFW numbers them.
[[nodiscard]] std::optional<Intent> intent_of_key(const App& app, int key, int mods);
[[nodiscard]] std::optional<Intent> intent_of_character(const App& app, char32_t character);

} // namespace evenclose
