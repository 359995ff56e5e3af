#include "scene/units/number.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <utility>

namespace evenclose {
namespace {

bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_space(char c) { return c == ' ' || c == '\t'; }

std::string_view trimmed(std::string_view text) {
    while (!text.empty() && is_space(text.front())) {
        text.remove_prefix(1);
    }
    while (!text.empty() && is_space(text.back())) {
        text.remove_suffix(1);
    }
    return text;
}

// UTF-8 by its bytes, so that the compiler's idea of the source's encoding does not matter.
constexpr std::array<std::pair<std::string_view, std::string_view>, 33> kPlain{{
    {"\xE2\x88\x92", "-"},    // minus
    {"\xE2\x81\x84", "/"},    // fraction slash
    {"\xC2\xA0", " "},        // no-break space
    {"\xE2\x80\xAF", " "},    // narrow no-break space
    {"\xE2\x80\x89", " "},    // thin space
    {"\xE2\x80\xB2", "'"},    // prime
    {"\xE2\x80\x99", "'"},    // right single quote
    {"\xE2\x80\x98", "'"},    // left single quote
    {"\xE2\x80\xB3", "\""},   // double prime
    {"\xE2\x80\x9D", "\""},   // right double quote
    {"\xE2\x80\x9C", "\""},   // left double quote
    {"\xC2\xB2", "2"},        // raised 2
    {"\xC2\xB0", "deg"},      // degree
    {"\xC2\xB7", " "},        // middle dot, as in lbf.in
    {"\xE2\x8B\x85", " "},    // dot operator
    {"\xC2\xBD", " 1/2"},     // fraction signs
    {"\xC2\xBC", " 1/4"},     //
    {"\xC2\xBE", " 3/4"},     //
    {"\xE2\x85\x9B", " 1/8"}, //
    {"\xE2\x85\x9C", " 3/8"}, //
    {"\xE2\x85\x9D", " 5/8"}, //
    {"\xE2\x85\x9E", " 7/8"}, //
    {"\xE2\x85\x93", " 1/3"}, //
    {"\xE2\x85\x94", " 2/3"}, //
    {"\xE2\x85\x95", " 1/5"}, //
    {"\xE2\x85\x96", " 2/5"}, //
    {"\xE2\x85\x97", " 3/5"}, //
    {"\xE2\x85\x98", " 4/5"}, //
    {"\xE2\x85\x99", " 1/6"}, //
    {"\xE2\x85\x9A", " 5/6"}, //
    {"\xEF\xBC\x8D", "-"},    // full-width minus
    {"\xE2\x80\x93", "-"},    // en dash
    {"\xE2\x80\x91", "-"},    // no-break hyphen
}};

std::string_view leading_digits(std::string_view text) {
    std::size_t n = 0;
    while (n < text.size() && is_digit(text[n])) {
        ++n;
    }
    return text.substr(0, n);
}

/// Length of a decimal number at the front (digits, point, exponent), 0 if there is none.
std::size_t decimal_length(std::string_view text) {
    std::size_t n = leading_digits(text).size();
    std::size_t digits = n;
    if (n < text.size() && text[n] == '.') {
        const std::size_t after = leading_digits(text.substr(n + 1)).size();
        digits += after;
        n += 1 + after;
    }
    if (digits == 0) {
        return 0;
    }
    if (n < text.size() && (text[n] == 'e' || text[n] == 'E')) {
        std::size_t e = n + 1;
        if (e < text.size() && (text[e] == '+' || text[e] == '-')) {
            ++e;
        }
        const std::size_t exponent = leading_digits(text.substr(std::min(e, text.size()))).size();
        if (exponent > 0) {
            n = e + exponent;
        }
    }
    return n;
}

/// Not finite if it is too large for a double.
double value_of(std::string_view digits) {
    double value = 0;
    const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), value);
    if (error == std::errc::result_out_of_range) {
        // Too small is zero for a shop; too large is told.
        return digits.find("e-") != digits.npos || digits.find("E-") != digits.npos ? 0.0 : HUGE_VAL;
    }
    return value;
}

} // namespace

std::string plain_text(std::string_view text) {
    std::string plain;
    plain.reserve(text.size());
    while (!text.empty()) {
        bool found = false;
        for (const auto& [from, to] : kPlain) {
            if (text.starts_with(from)) {
                plain += to;
                text.remove_prefix(from.size());
                found = true;
                break;
            }
        }
        if (!found) {
            plain += text.front();
            text.remove_prefix(1);
        }
    }
    return std::string(trimmed(plain));
}

std::string in_quotes(std::string_view text) {
    constexpr std::size_t kLongest = 40; // a message is one line; more of a pasted page helps nobody
    std::string result = "\"";
    for (const char c : text.substr(0, kLongest)) {
        result += static_cast<unsigned char>(c) < 0x20 || c == 0x7F ? ' ' : c;
    }
    if (text.size() > kLongest) {
        // Not to end inside a character of several bytes.
        while (!result.empty() && (static_cast<unsigned char>(result.back()) & 0xC0U) == 0x80U) {
            result.pop_back();
        }
        if (!result.empty() && static_cast<unsigned char>(result.back()) >= 0xC0U) {
            result.pop_back();
        }
        result += "...";
    }
    return result + "\"";
}

Read<NumberAndRest> read_number(std::string_view plain) {
    std::string_view text = trimmed(plain);
    double sign = 1;
    if (!text.empty() && (text.front() == '-' || text.front() == '+')) {
        sign = text.front() == '-' ? -1 : 1;
        text.remove_prefix(1);
        text = trimmed(text);
    }
    const std::size_t length = decimal_length(text);
    if (length == 0) {
        return Unreadable{"it does not begin with a number"};
    }
    const std::string_view first = text.substr(0, length);
    const bool whole = leading_digits(first).size() == first.size();
    double value = value_of(first);
    text.remove_prefix(length);

    // A fraction: first/second at once, or after a whole number and one space or hyphen.
    const auto fraction_at = [](std::string_view at) -> std::pair<std::string_view, std::string_view> {
        const std::string_view over = leading_digits(at);
        if (over.empty() || over.size() == at.size() || at[over.size()] != '/') {
            return {};
        }
        return {over, leading_digits(at.substr(over.size() + 1))};
    };
    if (!text.empty() && text.front() == '/' && text.size() > 1 && is_digit(text[1])) {
        const std::string_view under = leading_digits(text.substr(1));
        if (!whole) {
            return Unreadable{"a fraction takes whole numbers"};
        }
        const double divisor = value_of(under);
        if (divisor == 0) {
            return Unreadable{"a fraction over 0"};
        }
        value /= divisor;
        text.remove_prefix(1 + under.size());
    } else if (!text.empty() && (is_space(text.front()) || text.front() == '-')) {
        const bool hyphen = text.front() == '-';
        std::string_view after = hyphen ? text.substr(1) : trimmed(text);
        if (const auto [over, under] = fraction_at(after); !under.empty()) {
            if (!whole) {
                return Unreadable{"a fraction can follow only a whole number, as in 1 1/2"};
            }
            const double numerator = value_of(over);
            const double divisor = value_of(under);
            if (divisor == 0) {
                return Unreadable{"a fraction over 0"};
            }
            if (numerator >= divisor) {
                return Unreadable{"the fraction after a whole number must be less than 1, as in 1 1/2"};
            }
            value += numerator / divisor;
            after.remove_prefix(over.size() + 1 + under.size());
            text = after;
        }
    }
    if (!std::isfinite(value)) {
        return Unreadable{"too large a number"};
    }
    if (text.size() > 1 && text.front() == ',' && is_digit(text[1])) {
        return Unreadable{"a comma can be read in two ways; write a decimal point and no thousands separator"};
    }
    text = trimmed(text);
    if (!text.empty() && (is_digit(text.front()) || text.front() == '.' || text.front() == '/')) {
        return Unreadable{"two numbers one after the other"};
    }
    return NumberAndRest{sign * value, text};
}

} // namespace evenclose
