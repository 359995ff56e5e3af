// scene/documents/nearest_word.hpp: the word that a person most likely meant.
#pragma once

#include <span>
#include <string_view>

namespace evenclose {

/// Least number of letters put in, left out, changed, or swapped with their neighbour, that turn `a` into `b`, no
/// letter touched twice ("optimal string alignment": F. J. Damerau, A technique for computer detection and correction
/// of spelling errors, CACM 7 (1964) 171-176).
/// Bytes, not characters.   Threads: pure, any.
[[nodiscard]] std::size_t edit_distance(std::string_view a, std::string_view b);

/// The word of `right` nearest to `typed`, or an empty one if none is near enough to be worth offering: a third of the
/// letters may be wrong, or one word begins with the other. Capitals, '-' and blanks for '_' count nothing.
/// The first of equally near ones.
[[nodiscard]] std::string_view nearest_word(std::string_view typed, std::span<const std::string_view> right);

} // namespace evenclose
