// viewer/app/named_files.hpp: where a document names another file: its press, its molds, meshes, drawings, readings.
#pragma once

#include "scene/documents/source_tree.hpp"

#include <string>
#include <vector>

namespace evenclose {

struct NamedFile {
    std::string place;   // "openings[0].mold"
    std::string written; // as it stands there, relative to the document's folder
};

[[nodiscard]] std::vector<NamedFile> named_files(const SourceValue& root);

} // namespace evenclose
