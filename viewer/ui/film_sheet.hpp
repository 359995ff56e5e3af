// viewer/ui/film_sheet.hpp: the sheet on which a film is asked for: a turn round or the stroke, and into which file.
#pragma once

#include "viewer/ui/file_name_entry.hpp"

#include <string>

namespace evenclose {

class FilmSheet {
public:
    void draw(const Desk& desk, const Rect& window, bool keys_waiting);
    [[nodiscard]] bool takes_keys() const { return entry_.takes_keys(); }
    [[nodiscard]] bool takes_up() const { return entry_.takes_up(); }
    void closed() { entry_.closed(); }

private:
    FileNameEntry entry_;
    FilmWanted::Kind kind_ = FilmWanted::Kind::turn;
    std::string offered_; // what the entry held at first
};

} // namespace evenclose
