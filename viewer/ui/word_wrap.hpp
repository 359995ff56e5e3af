// viewer/ui/word_wrap.hpp: UTF-8 text broken into lines that fit. Pure, tested without a screen.
//
// Own, because Dear ImGui breaks behind any full stop or comma, so that "0.043 in" comes apart inside the number.
#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <vector>

namespace evenclose {

/// Lines at most `room` wide as `width_of` measures, broken at blanks and at '\n'; a number keeps the unit that follows
/// it. A single word wider than the room is broken between characters.
[[nodiscard]] std::vector<std::string> wrapped_lines(std::string_view words, float room,
                                                     const std::function<float(std::string_view)>& width_of);

/// Bytes that are not UTF-8 come as U+FFFD.
[[nodiscard]] std::u32string characters_of(std::string_view utf8);
[[nodiscard]] std::string_view without_last_character(std::string_view utf8);

} // namespace evenclose
