// viewer/ui/asked_files.hpp: what is asked when the window is about to write a file of a name that is yet to be given.
#pragma once

#include "viewer/app/app.hpp"
#include "viewer/ui/file_name_sheet.hpp"

namespace evenclose {

[[nodiscard]] FileNameAsked asked_to_save_as(const App& app);
[[nodiscard]] FileNameAsked asked_for_report(const App& app);

} // namespace evenclose
