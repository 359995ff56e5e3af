#include "scene/documents/document_fault.hpp"

#include <cstdint>
#include <vector>

namespace evenclose {
namespace {

// A line of a terminal or of the window holds some 100 characters; the sentence around takes half of them.
constexpr std::size_t kLongestShown = 48;
constexpr std::size_t kEndsShown = 20; // of a longer one, this much of either end

/// Length of the well-formed UTF-8 character that starts at `at` (Unicode 15, table 3-7); 0 if there is none.
std::size_t character_length(std::string_view text, std::size_t at) {
    const auto byte = [&](std::size_t i) {
        return at + i < text.size() ? static_cast<std::uint8_t>(text[at + i]) : std::uint8_t{0};
    };
    const auto follows = [&](std::size_t i) { return (byte(i) & 0xC0U) == 0x80U; };
    const std::uint8_t first = byte(0);
    if (first < 0x80) {
        return 1;
    }
    if (first >= 0xC2 && first <= 0xDF) {
        return follows(1) ? 2 : 0;
    }
    if (first >= 0xE0 && first <= 0xEF) {
        const bool overlong = first == 0xE0 && byte(1) < 0xA0;
        const bool surrogate = first == 0xED && byte(1) > 0x9F;
        return follows(1) && follows(2) && !overlong && !surrogate ? 3 : 0;
    }
    if (first >= 0xF0 && first <= 0xF4) {
        const bool overlong = first == 0xF0 && byte(1) < 0x90;
        const bool beyond = first == 0xF4 && byte(1) > 0x8F;
        return follows(1) && follows(2) && follows(3) && !overlong && !beyond ? 4 : 0;
    }
    return 0;
}

/// Characters of a text, each that is none or no letter as "?".
std::vector<std::string_view> showable(std::string_view typed) {
    std::vector<std::string_view> characters;
    for (std::size_t at = 0; at < typed.size();) {
        const std::size_t length = character_length(typed, at);
        const bool control = length == 1 && (static_cast<unsigned char>(typed[at]) < 0x20 || typed[at] == 0x7F);
        characters.push_back(length == 0 || control ? std::string_view{"?"} : typed.substr(at, length));
        at += length == 0 ? 1 : length;
    }
    return characters;
}

} // namespace

std::string shown(std::string_view typed) {
    const std::vector<std::string_view> characters = showable(typed);
    const bool whole = characters.size() <= kLongestShown;
    std::string line;
    for (std::size_t i = 0; i < characters.size(); ++i) {
        if (whole || i < kEndsShown || i >= characters.size() - kEndsShown) {
            line += characters[i];
        } else if (i == kEndsShown) {
            line += " ... ";
        }
    }
    return line;
}

std::string shown_path(std::string_view path) {
    std::string line;
    for (const std::string_view character : showable(path)) {
        line += character;
    }
    return line;
}

std::string DocumentFault::sentence() const {
    std::string said = shown_path(file);
    for (const std::string& part : {place, found.empty() ? problem : found + " " + problem}) {
        if (!part.empty()) {
            said += said.empty() ? part : ": " + part;
        }
    }
    if (!nearest.empty()) {
        said += "; did you mean \"" + nearest + "\"?";
    } else if (!allowed.empty()) {
        said += "; " + allowed;
    }
    return said;
}

} // namespace evenclose
