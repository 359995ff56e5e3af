// scene/documents/plate_document.hpp: the keys that head, platen and intermediate platens share.
#pragma once

#include "scene/documents/mesh_shelf.hpp"
#include "scene/press/press.hpp"

namespace evenclose {

/// "size", "thickness", "centre", "material", "mesh" with "mesh_unit", "mass". A mesh that is not as large as stated is
/// noted.
[[nodiscard]] Platen read_plate(DocumentSource& source, ObjectCursor& object, MeshShelf& shelf);

} // namespace evenclose
