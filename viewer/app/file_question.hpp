// viewer/app/file_question.hpp: which file is meant, asked in the desktop's own dialog where it offers one, else on a sheet
// of ours.
#pragma once

#include "viewer/desktop/file_dialog.hpp"

#include <cstdint>
#include <filesystem>
#include <variant>

namespace evenclose {

enum class FileQuestion { open, save_as, report };

/// In the dialog or on our sheet, as it is wished and there is.
struct AskForFile {
    FileQuestion question = FileQuestion::open;
    bool on_sheet = false;               // on ours, whatever is wished
    std::filesystem::path proposed = {}; // there; empty: as usual
};
/// What became of it: the dialog that was asked for with this number.
struct DialogAnswered {
    std::uint64_t number = 0;
    FileDialogAnswer answer;
};
/// The desktop's dialogs, or always our own sheets.
struct WishDialogs {
    bool desktop = true;
};
/// See Intent for why it is a class.
struct FileQuestionIntent : std::variant<AskForFile, DialogAnswered, WishDialogs> {
    using variant::variant;
    FileQuestionIntent();
    FileQuestionIntent(const FileQuestionIntent&);
    FileQuestionIntent(FileQuestionIntent&&) noexcept;
    FileQuestionIntent& operator=(const FileQuestionIntent&);
    FileQuestionIntent& operator=(FileQuestionIntent&&) noexcept;
    ~FileQuestionIntent();
};

struct FileAsking {
    bool offered = false; // so far as is known: a desktop that did not answer once is not asked again
    std::uint64_t number = 0;
    FileQuestion question = FileQuestion::open; // of the sheet that waits
};

} // namespace evenclose
