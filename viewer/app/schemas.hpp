// viewer/app/schemas.hpp: the schemas of assets/schemas, built into the program.
#pragma once

#include "scene/documents/document_keys.hpp"

#include <string_view>

namespace evenclose {

/// JSON Schema draft 7, as in assets/schemas. Threads: any.
[[nodiscard]] std::string_view schema_text(DocumentKind kind);

} // namespace evenclose
