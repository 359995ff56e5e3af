// viewer/ui/asked_files.hpp: what is asked when the window is about to write a file of a name that is yet to be given.
#pragma once

#include "viewer/app/app.hpp"
#include "viewer/desktop/file_dialog.hpp"
#include "viewer/ui/file_name_sheet.hpp"

#include <filesystem>
#include <vector>

namespace evenclose {

[[nodiscard]] FileNameAsked asked_to_save_as(const App& app);
[[nodiscard]] FileNameAsked asked_for_report(const App& app);

/// The same questions, and which set-up is to be opened, as the desktop's dialog is asked.
[[nodiscard]] FileDialogAsked dialog_for(const App& app, FileQuestion question);
/// What a file means that was chosen there: it is opened or written; asked once more on our sheet where its ending was
/// missing and a file with it is there already, of which the dialog knew nothing.
[[nodiscard]] std::vector<Intent> intents_of_answer(const App& app, FileQuestion question,
                                                    const std::filesystem::path& file);

} // namespace evenclose
