// viewer/ui/window.hpp: the window: the press in the middle, the rail, the bench, the ledger.
#pragma once

#include <iosfwd>
#include <string>

namespace evenclose {

struct WindowRequest {
    std::string setup_file;    // empty: an empty window that says what to do
    int width = 0, height = 0; // 0: as large as the screen sensibly allows
};

/// Opens the window and stays until it is closed. 0, or 2 with a line on `err` when no window can be opened (no
/// display, OpenGL too old).
int run_window(const WindowRequest& request, std::ostream& err);

} // namespace evenclose
