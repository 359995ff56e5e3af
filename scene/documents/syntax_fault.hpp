// scene/documents/syntax_fault.hpp: why a text is no JSON, in words that a shop can act on.
#pragma once

#include "scene/documents/document_fault.hpp"
#include "scene/documents/source_lines.hpp"

#include <cstddef>
#include <string>
#include <string_view>

namespace evenclose {

/// Where and why the reader gave up.
struct SyntaxStop {
    std::size_t bytes_read = 0; // up to and with the one that it cannot take; one more than there are at the end
    std::size_t next_token = 0; // behind the last value, key or bracket that was right
    std::string why;            // in the reader's words
};

/// One fault, without its file: line and column, what stands there, what should.
[[nodiscard]] DocumentFault syntax_fault(std::string_view text, const SourceLines& lines, const SyntaxStop& stop);

} // namespace evenclose
