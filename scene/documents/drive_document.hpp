// scene/documents/drive_document.hpp: what turns and couples the jacks of a press document, and heights read off it.
//
// A table of measured heights may stand in a CSV file beside the document: a first line "travel" and the names of the
// jacks, then a line for each reading; commas or semicolons; lengths as everywhere ("12.5", "12.5 mm", "1/2 in"), bare
// numbers in the document's unit; empty lines and lines that begin with # are passed over.
#pragma once

#include "scene/documents/object_cursor.hpp"
#include "scene/press/press.hpp"

namespace evenclose {

/// Needs: press.jacks read, and of which it is known of what kind they are.
void read_drives(DocumentSource& source, ObjectCursor& document, Press& press, const std::vector<bool>& kinds_known);

} // namespace evenclose
