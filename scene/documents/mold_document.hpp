// scene/documents/mold_document.hpp: a mold document as a table of what it holds (assets/schemas/mold.schema.json).
#pragma once

#include "scene/documents/documents.hpp"
#include "scene/documents/mesh_shelf.hpp"

namespace evenclose {

[[nodiscard]] Loaded<Mold> read_mold(const std::filesystem::path& file, MeshShelf& shelf,
                                     const DocumentTexts& texts = {});

/// From the half's own file into the mold frame: flipped half round about X first, then turned about Z, then moved.
[[nodiscard]] Pose placement_of(const MeshHalf& half);

} // namespace evenclose
