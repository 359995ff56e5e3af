// scene/mesh/formats/text_scan.hpp: words and numbers of a text file, and the line that they stand in.
#pragma once

#include <charconv>
#include <cstddef>
#include <limits>
#include <optional>
#include <string>
#include <string_view>
#include <system_error>

namespace evenclose {

/// Walks over the words of a text; white space and control characters part them.
class TextScan {
public:
    explicit TextScan(std::string_view text) : begin_(text.data()), at_(text.data()), end_(text.data() + text.size()) {
        if (text.starts_with("\xEF\xBB\xBF")) { // the mark that some editors put before UTF-8
            at_ += 3;
        }
    }

    /// The next word; empty at the end.
    [[nodiscard]] std::string_view word() {
        while (at_ != end_ && parts(*at_)) {
            ++at_;
        }
        const char* first = at_;
        while (at_ != end_ && !parts(*at_)) {
            ++at_;
        }
        return {first, static_cast<std::size_t>(at_ - first)};
    }
    void skip_line() {
        while (at_ != end_ && *at_ != '\n' && *at_ != '\r') {
            ++at_;
        }
    }
    [[nodiscard]] bool at_end() const { return at_ == end_; }
    [[nodiscard]] std::size_t left() const { return static_cast<std::size_t>(end_ - at_); }
    /// Counted only when asked, for a message.
    [[nodiscard]] std::size_t line() const {
        std::size_t lines = 1;
        for (const char* c = begin_; c != at_; ++c) {
            lines += *c == '\n' || (*c == '\r' && c + 1 != end_ && c[1] != '\n') ? 1U : 0U;
        }
        return lines;
    }

private:
    static bool parts(char c) { return static_cast<unsigned char>(c) <= ' '; }
    const char *begin_, *at_, *end_;
};

/// `lower` in lower case; ASCII only.
[[nodiscard]] inline bool same_word(std::string_view word, std::string_view lower) {
    if (word.size() != lower.size()) {
        return false;
    }
    for (std::size_t i = 0; i < word.size(); ++i) {
        const char c = word[i] >= 'A' && word[i] <= 'Z' ? static_cast<char>(word[i] - 'A' + 'a') : word[i];
        if (c != lower[i]) {
            return false;
        }
    }
    return true;
}

/// The word as a number; nothing if it is none as a whole. Too large is infinite, too small is 0; "nan" and "inf" are
/// numbers here, and for the caller to refuse.
[[nodiscard]] inline std::optional<double> number_in(std::string_view word) {
    if (word.starts_with('+') && word.size() > 1 && word[1] != '-') {
        word.remove_prefix(1);
    }
    double value = 0;
    const auto [end, error] = std::from_chars(word.data(), word.data() + word.size(), value);
    if (error == std::errc::invalid_argument || end != word.data() + word.size()) {
        return {};
    }
    if (error == std::errc::result_out_of_range) {
        const bool small = word.find("e-") != word.npos || word.find("E-") != word.npos;
        return small ? 0.0 : std::numeric_limits<double>::infinity();
    }
    return value;
}

/// A word for a message: quoted, shortened, without control characters.
[[nodiscard]] inline std::string shortened(std::string_view word) {
    constexpr std::size_t kLongest = 24;
    std::string result = "\"";
    for (const char c : word.substr(0, kLongest)) {
        const auto byte = static_cast<unsigned char>(c);
        result += byte < 0x20 || byte > 0x7E ? '?' : c;
    }
    return result + (word.size() > kLongest ? "...\"" : "\"");
}

} // namespace evenclose
