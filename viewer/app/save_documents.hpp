// viewer/app/save_documents.hpp: edited documents onto the disk, each wholly or not at all, and nobody else's work under them.
#pragma once

#include "viewer/app/edited_documents.hpp"

#include <filesystem>
#include <string>
#include <variant>
#include <vector>

namespace evenclose {

struct SaveOutcome {
    DocumentTexts written;
    std::vector<std::filesystem::path> changed_on_disk; // since they were read: not written
    std::vector<std::string> faults;                    // a sentence each
};

/// Writes what is unsaved, the version that stood there kept at last_version_of(); a document whose last version cannot
/// be kept (disk full, no right to) is not written, and that is told. `over_changes`: also where the disk's text is not
/// the one that was read.
[[nodiscard]] SaveOutcome save_documents(const EditedDocuments& documents, bool over_changes);

/// "oak.press.json~"
[[nodiscard]] std::filesystem::path last_version_of(const std::filesystem::path& file);

/// Files whose text on the disk is not the one that was read. A file that is gone counts; one that cannot be read does not.
[[nodiscard]] std::vector<std::filesystem::path> changed_on_disk(const EditedDocuments& documents);

/// The set-up under a new name, and what was edited of its press and molds under names beside it ("new.press.json",
/// "new.mold.json"); what is not edited stays where it is and is named from the new place, unless `with_parts` wants all of
/// it anew, so that nothing is shared with the set-up before. No existing file but the one at `file` is written over. The answer's documents are the new ones, saved; nothing in them can be undone.
/// Faults: a sentence each; files that were written before the fault stay.
[[nodiscard]] std::variant<EditedDocuments, std::vector<std::string>>
save_as(const EditedDocuments& documents, const std::filesystem::path& file, bool with_parts = false);

/// `text` with every path in it that starts from `from` written so that it starts from `to`.
[[nodiscard]] std::string rebased(const std::string& text, const std::filesystem::path& from,
                                  const std::filesystem::path& to);

} // namespace evenclose
