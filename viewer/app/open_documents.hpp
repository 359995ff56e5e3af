// viewer/app/open_documents.hpp: which documents are open, in the order in which a shop thinks of them.
#pragma once

#include "viewer/app/edited_documents.hpp"

#include <filesystem>
#include <string>
#include <vector>

namespace evenclose {

struct OpenDocument {
    std::filesystem::path file; // its document_id
    DocumentKind kind = DocumentKind::setup;
    std::string name; // its own, else the file's
};

/// The set-up, the press it names, the molds from the bottom up, each once. Those that are no longer named are left out.
[[nodiscard]] std::vector<OpenDocument> open_documents(const EditedDocuments& documents);

} // namespace evenclose
