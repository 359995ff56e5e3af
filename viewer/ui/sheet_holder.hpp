// viewer/ui/sheet_holder.hpp: the sheets of paper that may lie over the window, and what those with fields remember from frame to
// frame. One lies there at a time.
#pragma once

#include "viewer/ui/command_search.hpp"
#include "viewer/ui/file_name_sheet.hpp"
#include "viewer/ui/film_sheet.hpp"
#include "viewer/ui/molds_sheet.hpp"
#include "viewer/ui/new_press_sheet.hpp"
#include "viewer/ui/open_sheet.hpp"
#include "viewer/ui/panel.hpp"

namespace evenclose {

class SheetHolder {
public:
    /// Draws the sheet that the state names. `keys_wait`: something was typed that no field has shown yet.
    /// Needs: between Dear ImGui's NewFrame and Render, in a window that covers `window`; a sheet that is not none.
    void draw(const Desk& desk, const Rect& window, bool keys_wait);
    /// All but `open` start from their beginning when they come the next time.
    void close_others(Sheet open);

    /// A field is ready for what is typed; `takes_up`: it is about to be, or not yet done with what it was told.
    [[nodiscard]] bool takes_keys() const;
    [[nodiscard]] bool takes_up(Sheet open) const;
    /// Pictures that OpenGL holds are given back, and made again when they come into sight.
    void let_go_of_pictures() { molds_.let_go_of_pictures(); }

private:
    OpenSheet open_;
    FileNameSheet file_name_;
    NewPressSheet new_press_;
    CommandSearch search_;
    FilmSheet film_;
    MoldsSheet molds_;
};

} // namespace evenclose
