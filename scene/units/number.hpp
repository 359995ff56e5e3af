// scene/units/number.hpp: the number part of what a shop writes: decimals, fractions, mixed numbers; any unit follows it.
#pragma once

#include "scene/units/units.hpp"

#include <string>
#include <string_view>

namespace evenclose {

/// The text in plain ASCII, where a shop's keyboard or a pasted table has more: real minus, primes and curly quotes,
/// fraction signs ("1½" to "1 1/2"), raised 2, the degree sign ("deg"), spaces of other widths. Outer spaces go.
[[nodiscard]] std::string plain_text(std::string_view text);

/// What was written, quoted for a message: shortened, no control characters.
[[nodiscard]] std::string in_quotes(std::string_view text);

struct NumberAndRest {
    double value = 0;      // finite
    std::string_view rest; // after the number, spaces trimmed
};

/// `38`, `3.8`, `.5`, `1e-3`, `5/64`, `1 1/2`, `1-1/2` (one and a half), each with a sign before it.
/// Needs: plain text. Faults: what is wrong with the number, without the text itself ("a fraction over 0").
[[nodiscard]] Read<NumberAndRest> read_number(std::string_view plain);

} // namespace evenclose
