// viewer/ui/film_sheet.hpp: the sheet on which a film is asked for: a turn round or the stroke, and into which file.
#pragma once

#include "viewer/ui/panel.hpp"
#include "viewer/ui/text_field.hpp"

#include <string>

namespace evenclose {

class FilmSheet {
public:
    void draw(const Desk& desk, const Rect& window, bool keys_waiting);
    [[nodiscard]] bool takes_keys() const { return field_.takes_keys(); }
    [[nodiscard]] bool takes_up() const { return field_.takes_up(); }
    void closed() {
        if (field_.open()) {
            field_.end();
        }
    }

private:
    TextField field_;
    FilmWanted::Kind kind_ = FilmWanted::Kind::turn;
    std::string fault_, fault_for_, asked_for_; // asked_for_: an existing file that was asked for once
    std::string offered_;                       // what the field held at first
};

} // namespace evenclose
