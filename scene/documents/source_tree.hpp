// scene/documents/source_tree.hpp: JSON as read, every value with where it stands in the text.
//
// nlohmann-json reads (RFC 8259, UTF-8, // and /* */ comments allowed) and calls back at every value; a cursor follows in the text
// and notes where the value stands. So messages can quote what was typed, and an edit can replace just that.
// Stricter than RFC 8259: a key given twice in one object is a fault, since most readers would silently take one of
// them. Nesting is bounded.
#pragma once

#include "scene/documents/document_fault.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace evenclose {

struct SourceSpan {
    std::size_t begin = 0, end = 0; // bytes, end excluded
};

struct SourceEntry;

struct SourceValue {
    enum class Kind { null, boolean, number, text, list, object };
    Kind kind = Kind::null;
    SourceSpan span; // with the quotes of a text, with the brackets of a list or object
    bool boolean = false;
    double number = 0;  // infinite where the text's number is beyond the largest double
    bool whole = false; // the number was written without point or exponent
    std::string text;
    std::vector<SourceValue> items;   // of a list
    std::vector<SourceEntry> entries; // of an object, in order

    [[nodiscard]] const SourceValue* find(std::string_view key) const; // null if not there or no object
};

struct SourceEntry {
    std::string key;
    SourceSpan key_span; // with its quotes
    SourceValue value;
};

struct SourceTree {
    std::optional<SourceValue> root;   // none if the text is no JSON; doubled keys leave the first
    std::vector<DocumentFault> faults; // one if it is no JSON; else one a doubled key
};

// press: jacks[1].foot[2] is 4 deep. What is far deeper is no document.
inline constexpr int kDeepestNesting = 32;

/// `file` is only named in the faults.   Threads: pure, any.
[[nodiscard]] SourceTree read_source_tree(std::string_view text, const std::string& file);

/// "jacks" + "stroke" -> "jacks.stroke"; with an empty place just the key. A key that is no plain word is shown in
/// quotes, shortened.
[[nodiscard]] std::string place_of(const std::string& place, std::string_view key);
[[nodiscard]] std::string place_of(const std::string& place, std::size_t index);

} // namespace evenclose
