// scene/documents/document_text.hpp: a document's text, edited value by value so that all else stays as it was typed:
// comments, blanks, order, line ends, an unneeded 0. Unedited, it is written back byte for byte.
#pragma once

#include "scene/documents/document_fault.hpp"
#include "scene/documents/source_tree.hpp"

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace evenclose {

class DocumentText {
public:
    /// Faults: as read_source_file and read_source_tree tell them. What the values mean is not looked at.
    [[nodiscard]] static std::variant<DocumentText, std::vector<DocumentFault>> read(const std::filesystem::path& file);
    /// `file` is only named in faults.
    [[nodiscard]] static std::variant<DocumentText, std::vector<DocumentFault>> parse(std::string text,
                                                                                      const std::string& file);

    [[nodiscard]] const std::string& text() const { return text_; }
    [[nodiscard]] bool edited() const { return text_ != as_read_; }

    /// As typed, quotes included: "180", "\"7 in\"". None if there is no such place.
    [[nodiscard]] std::optional<std::string_view> typed_at(std::string_view place) const;

    /// Puts `json` (a number, text in quotes, list, object, true, false, null) in the place of the value at
    /// `place` ("jacks[1].stroke"). If only the last key of the place is missing, it is added behind the last key of its
    /// object, on a line of its own if the others have one.
    /// Faults: one clear line, nothing edited: no such place, `json` is none.
    [[nodiscard]] std::optional<std::string> set(std::string_view place, std::string_view json);

    /// Puts `json` behind the last item of the list at `place`, on a line of its own if the others have one.
    /// Faults: as `set`; no list there.
    [[nodiscard]] std::optional<std::string> add(std::string_view place, std::string_view json);
    /// Takes the key or the list's item at `place` away, see text_splice.hpp.   Faults: no such place.
    [[nodiscard]] std::optional<std::string> remove(std::string_view place);

    [[nodiscard]] const SourceValue& root() const { return root_; }

    /// Atomically, see atomic_write.hpp. Faults: one clear line, the file untouched.
    [[nodiscard]] std::optional<std::string> write(const std::filesystem::path& file);

private:
    DocumentText(std::string text, std::string file, SourceValue root);
    [[nodiscard]] std::string said(std::string_view place, std::string_view what) const;
    [[nodiscard]] std::optional<std::string> take(std::string edited, std::string_view place, std::string_view json);

    std::string text_, as_read_;
    std::string file_;
    SourceValue root_;
};

/// Shortest digits that read back as the same double: 0.1, 25.4, 1e+30.   Needs: finite.
[[nodiscard]] std::string json_number(double value);
/// In quotes, escaped. Broken UTF-8 becomes U+FFFD.
[[nodiscard]] std::string json_text(std::string_view text);

} // namespace evenclose
