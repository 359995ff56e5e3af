// scene/documents/document_fault.hpp: one thing that is wrong in a document, told so that a shop can mend it.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace evenclose {

struct DocumentFault {
    std::string file;    // as the shop named it
    std::string place;   // "jacks[1].stroke"; empty for the file as a whole
    std::string found;   // what was read there, as written: "-20", "\"alnog\""; empty if nothing or a misspelt key
    std::string problem; // "is no length", "missing", "no such word here"
    std::string allowed; // what would do, as a sentence part; may be empty
    std::string nearest; // for a misspelt word: the right one; else empty
    std::size_t line = 0, column = 0; // in the file, from 1, in characters; 0: none, the file as a whole

    /// One line: "oak.press.json: jacks[1].stroke: -20 is no length; give a positive one, such as \"180 mm\" or \"7 in\""
    [[nodiscard]] std::string sentence() const;
};

/// What a person typed, made fit for one line of a message: control characters and broken UTF-8 as "?", the middle of a
/// long one left out ("abcdef ... uvwxyz").
[[nodiscard]] std::string shown(std::string_view typed);
/// The same for a path, which must stay whole to be of use.
[[nodiscard]] std::string shown_path(std::string_view path);

} // namespace evenclose
