#include "viewer/ui/word_wrap.hpp"

#include <algorithm>
#include <array>

namespace evenclose {
namespace {

constexpr char32_t kReplacement = 0xFFFD;

bool continues(char byte) { return (static_cast<unsigned char>(byte) & 0xC0U) == 0x80U; }

/// How many bytes the character at `at` takes, at least 1.
std::size_t length_at(std::string_view text, std::size_t at) {
    std::size_t length = 1;
    while (at + length < text.size() && continues(text[at + length])) {
        ++length;
    }
    return length;
}

bool is_unit(std::string_view word) {
    constexpr std::array<std::string_view, 12> units{"mm",  "in",  "ft",  "mrad", "N", "kN",
                                                     "lbf", "MPa", "psi", "bar",  "%", "°"};
    while (!word.empty() && std::string_view(".,;:)").find(word.back()) != std::string_view::npos) {
        word.remove_suffix(1);
    }
    return std::find(units.begin(), units.end(), word) != units.end();
}

bool ends_in_digit(std::string_view word) { return !word.empty() && word.back() >= '0' && word.back() <= '9'; }
bool begins_with_digit(std::string_view word) { return !word.empty() && word.front() >= '0' && word.front() <= '9'; }

/// What must stay on one line: words between blanks, a number with its fraction and its unit.
std::vector<std::string> chunks_of(std::string_view line) {
    std::vector<std::string> chunks;
    while (!line.empty()) {
        const std::size_t end = std::min(line.find(' '), line.size());
        const std::string_view word = line.substr(0, end);
        line.remove_prefix(std::min(end + 1, line.size()));
        if (word.empty()) {
            continue;
        }
        const bool fraction = begins_with_digit(word) && word.find('/') != std::string_view::npos;
        if (!chunks.empty() && ends_in_digit(chunks.back()) && (is_unit(word) || fraction)) {
            chunks.back() += ' ';
            chunks.back() += word;
        } else {
            chunks.emplace_back(word);
        }
    }
    return chunks;
}

} // namespace

std::vector<std::string> wrapped_lines(std::string_view words, float room,
                                       const std::function<float(std::string_view)>& width_of) {
    std::vector<std::string> lines;
    while (!words.empty()) {
        const std::size_t end = std::min(words.find('\n'), words.size());
        std::string line;
        for (std::string& chunk : chunks_of(words.substr(0, end))) {
            std::string longer = line;
            if (!longer.empty()) {
                longer += ' ';
            }
            longer += chunk;
            if (width_of(longer) <= room) {
                line = std::move(longer);
                continue;
            }
            if (!line.empty()) {
                lines.push_back(std::move(line));
            }
            while (width_of(chunk) > room) {
                std::size_t fits = length_at(chunk, 0);
                while (fits < chunk.size() &&
                       width_of(std::string_view(chunk).substr(0, fits + length_at(chunk, fits))) <= room) {
                    fits += length_at(chunk, fits);
                }
                if (fits >= chunk.size()) {
                    break; // a single character wider than the room
                }
                lines.push_back(chunk.substr(0, fits));
                chunk.erase(0, fits);
            }
            line = std::move(chunk);
        }
        lines.push_back(std::move(line));
        words.remove_prefix(std::min(end + 1, words.size()));
    }
    return lines;
}

std::u32string characters_of(std::string_view utf8) {
    std::u32string characters;
    for (std::size_t at = 0; at < utf8.size();) {
        const std::size_t length = length_at(utf8, at);
        const auto first = static_cast<unsigned char>(utf8[at]);
        const std::size_t told = first < 0x80 ? 1 : first >= 0xF0 ? 4 : first >= 0xE0 ? 3 : first >= 0xC0 ? 2 : 0;
        char32_t character = told == 1 ? first : first & (0x7FU >> told);
        for (std::size_t i = 1; i < length; ++i) {
            character = (character << 6U) | (static_cast<unsigned char>(utf8[at + i]) & 0x3FU);
        }
        characters.push_back(told == length ? character : kReplacement);
        at += length;
    }
    return characters;
}

std::string_view without_last_character(std::string_view utf8) {
    std::size_t at = utf8.size();
    while (at > 0) {
        --at;
        if (!continues(utf8[at])) {
            break;
        }
    }
    return utf8.substr(0, at);
}

} // namespace evenclose
