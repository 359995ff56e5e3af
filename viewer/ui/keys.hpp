// viewer/ui/keys.hpp: what a key means now; which key is whose stands in commands.hpp. Pure, tested without a screen.
#pragma once

#include "viewer/app/app.hpp"

#include <optional>

namespace evenclose {

/// `key` and `mods` as GLFW numbers them. While a text is typed only what is not meant for it.
[[nodiscard]] std::optional<Intent> intent_of_key(const App& app, int key, int mods);
[[nodiscard]] std::optional<Intent> intent_of_character(const App& app, char32_t character);

} // namespace evenclose
