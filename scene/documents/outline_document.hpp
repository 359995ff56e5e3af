// scene/documents/outline_document.hpp: "deck_outline" of a mold: corners in the document, or a drawing beside it.
//
// { "file": "deck.dxf", "unit": "mm", "offset": [x, y], "turn": 90 }: the drawing's one closed line that has all others
// inside, in `unit` (else what the file says: $INSUNITS, an SVG's page width; else guessed by size), turned about its
// origin and then moved into the mold frame. The file is read anew with every reading of the document.
#pragma once

#include "scene/documents/object_cursor.hpp"
#include "scene/mold/mold.hpp"

#include <string>
#include <vector>

namespace evenclose {

/// Arcs and curves as corners no farther than 0.01 mm from them. `file`: set to the drawing's name as written. Empty if something is wrong, which is told.
/// Needs: the document has "deck_outline".
[[nodiscard]] std::vector<Vec2> read_deck_outline(DocumentSource& source, ObjectCursor& document, std::string& file);

/// Tells an outline that lies beside the halves, and notes how far one reaches beyond what both share.
/// Needs: halves loaded and placed.
void outline_meets_halves(DocumentSource& source, ObjectCursor& document, const Mold& mold);

} // namespace evenclose
