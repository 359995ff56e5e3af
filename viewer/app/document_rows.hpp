// viewer/app/document_rows.hpp: a document as a list of fields: every value that its schema knows, whether it is there or not,
// with the schema's words; and what typing into a field does to the text.
//
// Made from the schema and the text alone, so a key that is added to a schema has its field at once. Pure, tested without
// a window.
#pragma once

#include "scene/documents/document_keys.hpp"
#include "viewer/app/edited_documents.hpp"

#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

namespace evenclose {

/// What typed words become in the document.
enum class ValueKind { quantity, number, text, truth, texts, quantities };

struct FieldPart {
    std::string place; // "jacks[1].foot[2]"
    std::string typed; // as in the document, a text without its quotes; empty where nothing is
};

struct DocumentRow {
    enum class Kind { group, value, add };
    Kind kind = Kind::value;
    int depth = 0;
    std::string place;       // of the value, the object, the list; of an `add`: the list, or the object that is missing
    std::string label;       // "rated load"; of a list's item its name
    std::string description; // the schema's own words
    std::string words;       // what a search looks through: the whole way to it, lower case
    bool there = true;       // in the document
    bool removable = false;  // an item of a list, an object or value that may be left out
    // Of a value:
    ValueKind value = ValueKind::quantity;
    std::string unit; // of a bare number: "mm", "kN"; empty where there is none
    std::vector<FieldPart> parts;
    bool place_parts = false; // a place or shift: parts that are not typed are 0; of a size they are as the one typed
    std::vector<std::string> choices; // the only words allowed
    std::vector<std::string> instead; // places that a value here takes the place of
    // Of an `add`:
    std::string json; // what is added
};

/// In the schema's order. A text that is no JSON has none.
[[nodiscard]] std::vector<DocumentRow> rows_of(DocumentKind kind, const std::string& text);

/// As the document's own JSON: "38" of a quantity is the number, "38 mm" a text.
[[nodiscard]] std::string literal_of(ValueKind kind, std::string_view typed);

/// What it takes to have `typed` in this part of the row; empty words take a value away that may be left out. None if
/// nothing changes.
[[nodiscard]] std::vector<DocumentEdit> edits_for(const DocumentRow& row, std::size_t part, std::string_view typed,
                                                  const std::filesystem::path& file);
[[nodiscard]] std::vector<DocumentEdit> edits_to_add(const DocumentRow& row, const std::filesystem::path& file);
[[nodiscard]] std::vector<DocumentEdit> edits_to_remove(const DocumentRow& row, const std::filesystem::path& file);

/// Every word of `sought` is in the row's words.
[[nodiscard]] bool row_matches(const DocumentRow& row, std::string_view sought);

} // namespace evenclose
