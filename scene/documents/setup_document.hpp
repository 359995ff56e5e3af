// scene/documents/setup_document.hpp: a set-up document as a table of what it holds (assets/schemas/set-up.schema.json),
// and the press and molds that it names.
#pragma once

#include "scene/documents/documents.hpp"
#include "scene/documents/mesh_shelf.hpp"

namespace evenclose {

[[nodiscard]] Loaded<Setup> read_setup(const std::filesystem::path& file, MeshShelf& shelf,
                                       const DocumentTexts& texts = {});

} // namespace evenclose
