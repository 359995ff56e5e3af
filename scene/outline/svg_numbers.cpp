#include "scene/outline/svg_numbers.hpp"

#include "scene/mesh/formats/text_scan.hpp"
#include "scene/outline/drawing.hpp"

#include <fmt/format.h>

#include <cmath>

namespace evenclose {
namespace {

bool digit(char c) { return c >= '0' && c <= '9'; }
bool letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }
bool blank(char c) { return static_cast<unsigned char>(c) <= ' '; }

/// How many characters at the front are one number; 0 if there is none.
std::size_t length_of_number(std::string_view text) {
    std::size_t at = !text.empty() && (text[0] == '-' || text[0] == '+') ? 1 : 0;
    std::size_t digits = 0;
    for (; at < text.size() && digit(text[at]); ++at, ++digits) {
    }
    if (at < text.size() && text[at] == '.') {
        for (++at; at < text.size() && digit(text[at]); ++at, ++digits) {
        }
    }
    if (digits == 0) {
        return 0;
    }
    if (at < text.size() && (text[at] == 'e' || text[at] == 'E')) { // but "1em" is no exponent
        std::size_t exponent = at + 1;
        exponent += exponent < text.size() && (text[exponent] == '-' || text[exponent] == '+') ? 1 : 0;
        if (exponent < text.size() && digit(text[exponent])) {
            for (at = exponent; at < text.size() && digit(text[at]); ++at) {
            }
        }
    }
    return at;
}

} // namespace

bool SvgNumbers::at_end(bool comma) {
    for (bool passed = !comma; !text_.empty(); text_.remove_prefix(1)) {
        if (text_.front() == ',' && !passed) {
            passed = true;
        } else if (!blank(text_.front())) {
            break;
        }
    }
    return text_.empty();
}

char SvgNumbers::take() {
    const char c = peek();
    text_.remove_prefix(text_.empty() ? 0 : 1);
    return c;
}

bool SvgNumbers::number_follows() const { return length_of_number(text_) > 0; }

double SvgNumbers::number() {
    at_end();
    const std::size_t length = length_of_number(text_);
    if (length == 0) {
        const std::size_t end = text_.find_first_of(" \t\r\n,");
        throw SvgMistake{text_.empty() ? "it ends where a number should be"
                                       : fmt::format("{} where a number should be", shortened(text_.substr(0, end)))};
    }
    const std::string_view written = text_.substr(0, length);
    std::string_view plain = written;
    while (plain.size() > 1 && plain.ends_with('.')) { // "3." is a number here
        plain.remove_suffix(1);
    }
    const std::optional<double> value = number_in(plain);
    if (!value || !std::isfinite(*value) || std::abs(*value) > kFarthest) {
        throw SvgMistake{fmt::format("{} is farther out than any deck", shortened(written))};
    }
    text_.remove_prefix(length);
    at_end(true);
    return *value;
}

bool SvgNumbers::flag() {
    at_end();
    const char c = take();
    if (c != '0' && c != '1') {
        throw SvgMistake{"an arc's flag is 0 or 1"};
    }
    at_end(true);
    return c == '1';
}

std::string_view SvgNumbers::word() {
    std::size_t end = 0;
    while (end < text_.size() && (letter(text_[end]) || text_[end] == '%')) {
        ++end;
    }
    const std::string_view result = text_.substr(0, end);
    text_.remove_prefix(end);
    return result;
}

} // namespace evenclose
