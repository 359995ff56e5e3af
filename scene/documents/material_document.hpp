// scene/documents/material_document.hpp: the shop's own materials, as a press document lists them.
#pragma once

#include "scene/documents/object_cursor.hpp"
#include "scene/materials/material.hpp"

#include <vector>

namespace evenclose {

/// A material is told by its allowable stresses (wood and the like) or by its yield (metal and the like), and by where
/// the figures come from. A word that the table of ours knows is taken only with "replaces": true.
[[nodiscard]] std::vector<Material> read_materials(ObjectCursor& document);

} // namespace evenclose
