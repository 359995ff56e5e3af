#include "scene/documents/source_lines.hpp"

#include <algorithm>

namespace evenclose {
namespace {

constexpr std::size_t kBlock_bytes = 1024;

bool starts_character(char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }
} // namespace

SourceLines::SourceLines(std::string_view text) : text_{text} {
    // Counted first: a file of nothing but line ends would take twice the memory while its list grows.
    starts_.reserve(1 + static_cast<std::size_t>(std::count(text.begin(), text.end(), '\n')));
    starts_.push_back(0);
    std::size_t characters = 0;
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (i % kBlock_bytes == 0) {
            characters_before_block_.push_back(characters);
        }
        characters += starts_character(text[i]) ? 1 : 0;
        if (text[i] == '\n') {
            starts_.push_back(i + 1);
        }
    }
    characters_before_block_.push_back(characters);
}

std::size_t SourceLines::characters_before(std::size_t byte) const {
    const std::size_t block = byte / kBlock_bytes;
    const std::size_t from = block * kBlock_bytes;
    const std::string_view rest = text_.substr(from, byte - from);
    return characters_before_block_[block] +
           static_cast<std::size_t>(std::count_if(rest.begin(), rest.end(), starts_character));
}

SourceLines::Position SourceLines::position(std::size_t byte) const {
    byte = std::min(byte, text_.size());
    const auto after = std::upper_bound(starts_.begin(), starts_.end(), byte);
    std::size_t start = *(after - 1);
    if (start == 0 && text_.starts_with(kByteOrderMark)) {
        start = std::min(kByteOrderMark.size(), byte);
    }
    return {static_cast<std::size_t>(after - starts_.begin()), characters_before(byte) - characters_before(start) + 1};
}

} // namespace evenclose
