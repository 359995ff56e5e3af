// scene/documents/named_file.hpp: a file that a document names must be there.
//
// By any path, relative to the document's folder or absolute, through "../" and symbolic links too: a shop keeps presses,
// molds and meshes in sibling folders. So a document decides what is read, as what it is named for (a mesh, a table, a
// drawing, a document) and plain files only; it never decides what is written. Mesh files, which come from strangers more
// often, have a narrower rule: scene/mesh/formats/files_beside.hpp.
#pragma once

#include "scene/documents/object_cursor.hpp"

#include <string_view>

namespace evenclose {

/// True if the file that `key` names is there; else that is told, with the nearest name in its folder.
[[nodiscard]] bool named_file_is_there(DocumentSource& source, ObjectCursor& object, std::string_view key,
                                       std::string_view written);

} // namespace evenclose
