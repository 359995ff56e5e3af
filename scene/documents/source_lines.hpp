// scene/documents/source_lines.hpp: line and column of a byte of a text.
#pragma once

#include <cstddef>
#include <string_view>
#include <vector>

namespace evenclose {

inline constexpr std::string_view kByteOrderMark = "\xEF\xBB\xBF"; // takes no column

/// Lines and columns from 1; columns count characters (UTF-8).
class SourceLines {
public:
    explicit SourceLines(std::string_view text);
    struct Position {
        std::size_t line, column;
    };
    [[nodiscard]] Position position(std::size_t byte) const;

private:
    [[nodiscard]] std::size_t characters_before(std::size_t byte) const;

    std::string_view text_; // must outlive this
    std::vector<std::size_t> starts_;
    std::vector<std::size_t> characters_before_block_; // a megabyte may stand on one line, with a fault at every byte
};

} // namespace evenclose
