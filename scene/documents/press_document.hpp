// scene/documents/press_document.hpp: a press document as a table of what it holds (assets/schemas/press.schema.json).
#pragma once

#include "scene/documents/documents.hpp"
#include "scene/documents/mesh_shelf.hpp"

namespace evenclose {

[[nodiscard]] Loaded<Press> read_press(const std::filesystem::path& file, MeshShelf& shelf,
                                       const DocumentTexts& texts = {});

/// What a member is made of, by which of "timber", "angle", "tube", "pipe", "rod", "plate", "mesh", "side_by_side",
/// "stacked" is given.
[[nodiscard]] Section read_section(DocumentSource& source, ObjectCursor section, MeshShelf& shelf);

} // namespace evenclose
