// viewer/ui/copied_words.hpp: what the clipboard is given. Pure, tested without a screen.
#pragma once

#include "viewer/app/app.hpp"

#include <string>

namespace evenclose {

/// The chosen finding in some lines: verdict, sentence, numbers, reason, remedy; empty if none is chosen.
[[nodiscard]] std::string chosen_finding_words(const App& app);
/// All findings, a line each after a head line, columns parted by tabs as spreadsheets take them; empty if there are none.
[[nodiscard]] std::string findings_table(const App& app);

} // namespace evenclose
