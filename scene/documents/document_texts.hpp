// scene/documents/document_texts.hpp: texts of documents that stand in for the files on the disk, so that what was edited and
// not yet saved can be read like any document, and so that one reading sees one state of all its files.
#pragma once

#include "scene/documents/document_keys.hpp"

#include <filesystem>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <string_view>

namespace evenclose {

/// By document_id(). Shared, since edited states are kept for undo and most of their texts are alike.
using DocumentTexts = std::map<std::filesystem::path, std::shared_ptr<const std::string>>;

/// One spelling for a document's path, however it was named; the file need not be there.
[[nodiscard]] std::filesystem::path document_id(const std::filesystem::path& file);

/// `texts` and those of the set-up at `file` and of the press and molds that it names, so far as they can be read: from
/// `texts` where they are there, else from the disk. What cannot be read is left out.
[[nodiscard]] DocumentTexts gathered_texts(const std::filesystem::path& file, DocumentTexts texts);

/// What a document says it is; none if it is no document.
[[nodiscard]] std::optional<DocumentKind> kind_of_document(std::string_view text);

} // namespace evenclose
