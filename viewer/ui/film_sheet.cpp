#include "viewer/ui/film_sheet.hpp"

#include "viewer/app/open_entries.hpp"
#include "viewer/export/film_file.hpp"

#include <filesystem>
#include <system_error>
#include <tuple>

namespace evenclose {

namespace fs = std::filesystem;

namespace {

std::string offered(const App& app, FilmWanted::Kind kind) {
    fs::path file = app.documents.setup;
    std::string stem = file.filename().string();
    stem = stem.substr(0, stem.find('.'));
    return (file.parent_path() / (stem + (kind == FilmWanted::Kind::turn ? "-turn.webp" : "-stroke.webp"))).string();
}

} // namespace

void FilmSheet::draw(const Desk& desk, const Rect& window, bool keys_waiting) {
    const Pen pen = desk.pen();
    const Rect paper = begin_sheet(desk, window, "sheet.film", "Save as a film", 720, 306);
    const float x = paper.x + pen.px(24);
    const float room = paper.width - pen.px(48);
    const auto offer = [&] {
        offered_ = offered(desk.app, kind_);
        field_.begin(offered_, false);
        fault_.clear();
        asked_for_.clear();
    };
    if (!field_.open()) {
        offer();
    }
    float y = paper.y + pen.px(54);
    float across = x - pen.px(8);
    for (const auto& [kind, id, words] :
         {std::tuple{FilmWanted::Kind::turn, "film.turn", "Once round the press"},
          std::tuple{FilmWanted::Kind::stroke, "film.stroke", "The stroke, open to closed"}}) {
        const float wide = pen.width_of(Face::text, words) + pen.px(28);
        if (pen.button(id, {across, y, wide, pen.px(32)}, words, kind_ == kind) && kind != kind_) {
            const bool untouched = field_.text() == offered_;
            kind_ = kind;
            if (untouched) {
                offer();
            }
        }
        across += wide;
    }
    y += pen.px(42);
    y += pen.wrapped(
             x, y, room, Face::small, colour::graphite,
             "As the press is shown now, with section, hidden bodies and colours, without the words over it. A name "
             "that ends with .webp makes one moving file that any browser shows; one such as turn-%03d.png makes "
             "numbered pictures.") +
         pen.px(10);
    const Rect place{x, y, room, pen.px(32)};
    desk.places.note("film.field", place);
    const TextField::End end = field_.draw(pen, place, "##film", keys_waiting, Face::text);
    if (fault_for_ != field_.text()) {
        fault_.clear();
    }
    y += pen.px(42);
    const Rect key{x, paper.bottom() - pen.px(54), pen.px(120), pen.px(36)};
    const Pressable press = pen.pressable("film.save", key);
    desk.places.note("film.save", key);
    pen.fill(key, press.hovered ? mixed(colour::accent, colour::ink, 0.25F) : colour::accent, 2);
    pen.text(key.middle_x(), key.middle_y() - 0.5F * pen.height_of(Face::text), Face::text, colour::on_accent, "Save",
             key.width, Align::middle);
    if (end == TextField::End::entered || end == TextField::End::save || press.pressed) {
        const fs::path file = typed_path(field_.text());
        const Read<FilmName> name = read_film_name(file.string());
        std::error_code ignored;
        if (const auto* fault = std::get_if<Unreadable>(&name)) {
            fault_ = fault->why;
        } else if (!fs::is_directory(file.has_parent_path() ? file.parent_path() : fs::path("."), ignored)) {
            fault_ = "There is no folder " + file.parent_path().string();
        } else if (std::get<FilmName>(name).moving && fs::exists(file, ignored) && asked_for_ != file.string()) {
            fault_ = "There is a file of that name; once more to write over it";
            asked_for_ = file.string();
        } else {
            desk.want(CloselyIntent{SaveFilm{{kind_, file.string()}}});
            return;
        }
        fault_for_ = field_.text();
        field_.begin(field_.text(), false);
    }
    if (!fault_.empty()) {
        pen.wrapped(x, y, room, Face::small, colour::foul_word, fault_);
        desk.places.note("film.fault", {x, y, room, 2 * pen.height_of(Face::small)});
    }
}

} // namespace evenclose
