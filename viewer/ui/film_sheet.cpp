#include "viewer/ui/film_sheet.hpp"

#include "viewer/export/film_file.hpp"

#include <algorithm>
#include <filesystem>
#include <tuple>

namespace evenclose {

namespace fs = std::filesystem;

namespace {

std::string offered(const App& app, FilmWanted::Kind kind) {
    fs::path file = app.documents.setup;
    std::string stem = file.filename().string();
    stem.resize(std::min(stem.find('.'), stem.size()));
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
        entry_.begin(offered_);
    };
    if (!entry_.open()) {
        offer();
    }
    float y = paper.y + pen.px(54);
    float across = x - pen.px(8);
    for (const auto& [kind, id, words] :
         {std::tuple{FilmWanted::Kind::turn, "film.turn", "Once round the press"},
          std::tuple{FilmWanted::Kind::stroke, "film.stroke", "The stroke, open to closed"}}) {
        const float wide = pen.width_of(Face::text, words) + pen.px(28);
        if (pen.button(id, {across, y, wide, pen.px(32)}, words, kind_ == kind) && kind != kind_) {
            const bool untouched = entry_.text() == offered_;
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
    FileNameWanted wanted;
    wanted.id = "film";
    wanted.fault = [](const fs::path& file) {
        const Read<FilmName> name = read_film_name(file.string());
        const auto* fault = std::get_if<Unreadable>(&name);
        return fault != nullptr ? fault->why : std::string();
    };
    wanted.over = [](const fs::path& file) { // numbered pictures have names of their own
        return !std::get<FilmName>(read_film_name(file.string())).moving;
    };
    if (const auto file = entry_.draw(desk, paper, y, wanted, keys_waiting)) {
        desk.want(CloselyIntent{SaveFilm{{kind_, file->string()}}});
    }
}

} // namespace evenclose
