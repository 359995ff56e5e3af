// viewer/app/edited_documents.hpp: the set-up's documents as texts in memory: what was read, what was made of it since, and
// every step between, so that all of it can be undone and saved.
//
// Plain data and pure functions. A step keeps the texts that it changed, before and after: undoing gives them back byte for byte.
#pragma once

#include "scene/documents/document_texts.hpp"

#include <filesystem>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace evenclose {

/// One change of one document. `set` makes a key that is missing, with the object around it if that is missing too.
struct DocumentEdit {
    enum class What { set, add, remove };
    std::filesystem::path file; // its document_id
    What what = What::set;
    std::string place; // "jacks[1].stroke"; of an `add`: the list, "jacks"
    std::string json;  // "180", "\"7 in\""; of a `remove`: none
};

using SharedText = std::shared_ptr<const std::string>;

struct EditStep {
    std::string label;                                                        // "stroke of left jack: 150 to 180"
    std::map<std::filesystem::path, std::pair<SharedText, SharedText>> texts; // before and after
};

struct EditedDocuments {
    std::filesystem::path setup;        // its document_id
    DocumentTexts saved;                // as last read from the disk or written to it
    DocumentTexts texts;                // as they stand
    std::vector<EditStep> done, undone; // the last one of each comes next

    [[nodiscard]] bool unsaved() const;
    [[nodiscard]] bool unsaved(const std::filesystem::path& file) const;
    [[nodiscard]] DocumentTexts unsaved_texts() const;
};

/// All of `edits` as one step, or none of them. Nothing is kept for undo where nothing changes.
/// Faults: one clear line: no such document or place, a text that is no document any more.
[[nodiscard]] std::optional<std::string> edit(EditedDocuments& documents, const std::vector<DocumentEdit>& edits,
                                              std::string label);
/// Puts another mold document into an opening of the set-up.
[[nodiscard]] DocumentEdit mold_in_opening(const EditedDocuments& documents, std::size_t opening,
                                           const std::filesystem::path& mold);
/// False if there is nothing to undo, to redo.
bool undo(EditedDocuments& documents);
bool redo(EditedDocuments& documents);

/// What a reading found on the disk. A document that is edited stays as it is; one that is not follows the disk, and what
/// was done to it before can be undone no longer.
void take_up(EditedDocuments& documents, const DocumentTexts& read);
/// The text on the disk takes the place of the edited one, as a step that can be undone.
void take_theirs(EditedDocuments& documents, const std::filesystem::path& file, const SharedText& text,
                 std::string label);
/// They are on the disk now.
void note_saved(EditedDocuments& documents, const DocumentTexts& written);

/// In the trade's words: "stroke of left jack: 150 to 180", "left jack removed", "one more in jacks".
[[nodiscard]] std::string label_of(const EditedDocuments& documents, const DocumentEdit& edit);
/// "jacks[1].stroke" in `text`: "stroke of right jack".
[[nodiscard]] std::string words_of_place(const std::string& text, const std::string& place);

} // namespace evenclose
