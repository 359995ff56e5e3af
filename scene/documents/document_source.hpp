// scene/documents/document_source.hpp: one document while it is being read: its text, its unit, and what was wrong so far.
#pragma once

#include "scene/documents/document_keys.hpp"
#include "scene/documents/documents.hpp"
#include "scene/documents/source_lines.hpp"
#include "scene/documents/source_tree.hpp"
#include "scene/units/units.hpp"

#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

namespace evenclose {

class DocumentSource {
public:
    /// Reads, from `texts` if it is there, and parses; what goes wrong is in the faults. Checks kind, version and unit too.
    DocumentSource(std::filesystem::path file, DocumentKind kind, const DocumentTexts& texts = {});
    DocumentSource(const DocumentSource&) = delete; // cursors point into it
    DocumentSource& operator=(const DocumentSource&) = delete;

    /// Null if there is no telling what the rest of the file means: no JSON, another kind, a newer version.
    [[nodiscard]] const SourceValue* root() const { return readable_ ? &*tree_.root : nullptr; }
    [[nodiscard]] DocumentKind kind() const { return kind_; }
    /// What a bare number is.
    [[nodiscard]] LengthUnit unit() const { return unit_; }
    /// Where a path in the document leads: from its own folder.
    [[nodiscard]] std::filesystem::path resolve(std::string_view written) const;

    /// As typed, for a message; "a list" and "an object" for those.
    [[nodiscard]] std::string found_at(const SourceValue& value) const;

    /// Everything but file, line and column of `fault` is given; `at_byte` tells those two.
    void add(DocumentFault fault, std::size_t at_byte);
    void add_other(std::vector<DocumentFault> of_another_file);
    void note(std::string text);

    /// All so far, in the order of the text; those of other files after.
    [[nodiscard]] std::vector<DocumentFault> take_faults();
    [[nodiscard]] std::vector<std::string> take_notes() { return std::move(notes_); }

private:
    void read_preamble();
    void check_kind_and_version(const SourceValue& object);

    std::filesystem::path file_;
    DocumentKind kind_;
    std::string text_;
    SourceLines lines_{""};
    SourceTree tree_;
    bool readable_ = false;
    LengthUnit unit_ = LengthUnit::mm;
    std::vector<DocumentFault> faults_, of_other_files_;
    std::size_t faults_left_out_ = 0;
    std::vector<std::string> notes_;
};

} // namespace evenclose
