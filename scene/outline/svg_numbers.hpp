// scene/outline/svg_numbers.hpp: numbers as SVG packs them: parted by blanks, a comma, or nothing ("1.5.5-3").
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace evenclose {

/// What is wrong in an attribute, without its place: "\"oak\" where a number should be".
struct SvgMistake {
    std::string what;
};

class SvgNumbers {
public:
    explicit SvgNumbers(std::string_view text) : text_(text) {}

    /// Past blanks, and one comma if `comma` says so. True if nothing is left.
    bool at_end(bool comma = false);
    /// The next character without taking it; 0 at the end.
    [[nodiscard]] char peek() const { return text_.empty() ? '\0' : text_.front(); }
    char take();
    /// Faults: SvgMistake: none there, not finite, beyond kFarthest.
    double number();
    /// '0' or '1', which may stand right before the next number.
    bool flag();
    [[nodiscard]] bool number_follows() const;
    /// Letters and % up to what is neither: a unit, or a word.
    std::string_view word();

private:
    std::string_view text_;
};

} // namespace evenclose
