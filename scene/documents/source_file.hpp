// scene/documents/source_file.hpp: the bytes of a document's file.
#pragma once

#include "scene/documents/document_fault.hpp"

#include <cstddef>
#include <filesystem>
#include <string>
#include <variant>

namespace evenclose {

// A press of a hundred members takes 30 kB. What is a thousand times larger is another kind of file, named by mistake,
// and need not be taken into memory to be told so.
inline constexpr std::size_t kLargestDocument_bytes = 32U << 20U;

/// What is given stood in the file at one moment: where somebody writes meanwhile (FileState) it is read again, a few times.
/// Faults: no such file, a folder, a device or pipe (which might never end), no right to read, too large; written to over and over.
[[nodiscard]] std::variant<std::string, DocumentFault> read_source_file(const std::filesystem::path& file);

} // namespace evenclose
