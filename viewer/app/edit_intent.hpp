// viewer/app/edit_intent.hpp: intents of editing, saving and recovering, a part of all intents (intent.hpp).
#pragma once

#include "viewer/app/edited_documents.hpp"
#include "viewer/app/file_watch.hpp"
#include "viewer/app/new_press.hpp"
#include "viewer/app/recovery.hpp"
#include "viewer/app/settings.hpp"

#include <filesystem>
#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace evenclose {

// What a person wants.
struct EditDocuments {
    std::vector<DocumentEdit> edits;
    std::string label; // empty: as label_of() says of the first
};                     // all or none, as one step
struct Undo {};
struct Redo {};
struct Save {
    bool over_changes = false;  // also where the file changed on the disk since
    bool beside_others = false; // also where another window has it open
};
struct SaveAs {
    std::string file;
    bool with_parts = false; // press and molds too, though they were not edited
};
/// Opens the list of a document's fields in the bench's place, at a place in it; an empty file closes it.
struct ShowFields {
    std::filesystem::path file; // its document_id
    std::string place;
    bool search = false; // the search takes the keys
};
/// The next field takes the keys, or the one before. The list of fields knows which that is.
struct StepField {
    int by = 1;
};
/// The field that is typed into; an empty place: the search. None: no field.
struct TypeInto {
    std::optional<std::string> place;
};
struct FindFields {
    std::string words;
};
struct FoldGroup {
    std::string place;
}; // or unfold it
/// Answers the question that stands before unsaved work is left.
struct LeaveUnsaved {
    enum class How { save, discard, stay } how = How::stay;
};
struct TakeUpWork {
    std::size_t index = 0;
}; // into Session::left_behind
struct DiscardWork {
    std::size_t index = 0;
};
struct SwapMold {
    std::size_t opening = 0;
    std::string file; // a mold document
};
/// A mesh was dropped: it asks which half it is for.
struct DropMesh {
    std::string file;
};
struct MeshForHalf {
    std::string half; // "lower", "upper"
};
struct ToggleMold {}; // the mold that was there before the last swap, and back
/// The two halves' places are changed by hand; at the end it is an edit.
struct MoveMold {
    std::size_t opening = 0;
    double x_mm = 0, y_mm = 0; // where its frame stands, from the platen's middle
    bool end = false;
};
/// Writes a new press, mold and set-up and opens them.
struct MakePress {
    NewPressAnswers answers;
    std::filesystem::path folder;
    std::string stem;
};
struct DismissNotice {};
/// A document changed on the disk while it is edited here: whose text is to stand.
struct AnswerConflict {
    std::filesystem::path file; // its document_id
    bool take_theirs = false;   // can be undone; else the text here stands, unsaved
};

// What the world outside answered.
struct Saved {
    DocumentTexts written;
    std::vector<std::filesystem::path> changed_on_disk; // not written
    std::vector<std::string> faults;                    // a sentence each
    std::vector<std::filesystem::path> open_elsewhere;  // nothing was written, since another window has these open
};
struct SavedAs {
    EditedDocuments documents;
};
struct SessionRead {
    std::vector<std::string> recent;
    std::vector<LeftBehind> left_behind;
    Settings settings = {};
    Theme desktop = Theme::light;
    bool dialogs_thinkable = false; // of the desktop, for files
};
/// Said of the documents that are open: changed on the disk while edited here; open in another window.
struct DocumentsShared {
    std::vector<std::filesystem::path> changed_on_disk, open_elsewhere;
};
/// Files that the set-up hangs on changed on the disk, and stand still again.
struct FilesChanged {
    std::vector<ChangedFile> files;
};
struct PressMade {
    std::string file;  // the set-up
    std::string fault; // why there is none
};
struct WorkNotKept {
    std::string why;
};

/// See Intent for why it is a class.
struct EditIntent : std::variant<EditDocuments, Undo, Redo, Save, SaveAs, ShowFields, StepField, TypeInto, FindFields,
                                 FoldGroup, LeaveUnsaved, TakeUpWork, DiscardWork, SwapMold, DropMesh, MeshForHalf,
                                 ToggleMold, MoveMold, MakePress, DismissNotice, AnswerConflict, Saved, SavedAs,
                                 SessionRead, DocumentsShared, FilesChanged, PressMade, WorkNotKept> {
    using variant::variant;
    EditIntent();
    EditIntent(const EditIntent&);
    EditIntent(EditIntent&&) noexcept;
    EditIntent& operator=(const EditIntent&);
    EditIntent& operator=(EditIntent&&) noexcept;
    ~EditIntent();
};

} // namespace evenclose
