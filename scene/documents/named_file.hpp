// scene/documents/named_file.hpp: a file that a document names must be there.
#pragma once

#include "scene/documents/object_cursor.hpp"

#include <string_view>

namespace evenclose {

/// True if the file that `key` names is there; else that is told, with the nearest name in its folder.
[[nodiscard]] bool named_file_is_there(DocumentSource& source, ObjectCursor& object, std::string_view key,
                                       std::string_view written);

} // namespace evenclose
