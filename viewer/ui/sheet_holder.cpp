#include "viewer/ui/sheet_holder.hpp"

#include "viewer/ui/asked_files.hpp"

#include <array>
#include <utility>

namespace evenclose {
namespace {

using PlainSheet = void (*)(const Desk& desk, const Rect& window);

// Those that remember nothing.
constexpr std::array<std::pair<Sheet, PlainSheet>, 12> kPlain{{{Sheet::keys, key_sheet},
                                                               {Sheet::guide, guide_sheet},
                                                               {Sheet::cautions, caution_sheet},
                                                               {Sheet::week, week_sheet},
                                                               {Sheet::plan, plan_sheet},
                                                               {Sheet::unsaved, unsaved_sheet},
                                                               {Sheet::left_behind, left_behind_sheet},
                                                               {Sheet::which_half, which_half_sheet},
                                                               {Sheet::asking, asking_sheet},
                                                               {Sheet::compare, compare_sheet},
                                                               {Sheet::changed, changed_sheet},
                                                               {Sheet::shared, shared_sheet}}};

} // namespace

void SheetHolder::draw(const Desk& desk, const Rect& window, bool keys_wait) {
    const App& app = desk.app;
    for (const auto& [sheet, draw_plain] : kPlain) {
        if (sheet == app.sheet) {
            draw_plain(desk, window);
        }
    }
    if (app.sheet == Sheet::new_press) {
        new_press_.draw(desk, window, keys_wait);
    } else if (app.sheet == Sheet::search) {
        search_.draw(desk, window, keys_wait);
    } else if (app.sheet == Sheet::film) {
        film_.draw(desk, window, keys_wait);
    } else if (app.sheet == Sheet::molds) {
        molds_.draw(desk, window, keys_wait);
    } else if (app.sheet == Sheet::save_as) {
        if (const auto file = file_name_.draw(desk, window, asked_to_save_as(app), keys_wait)) {
            desk.want(EditIntent{SaveAs{file->string(), file_name_.other()}});
        }
    } else if (app.sheet == Sheet::report) {
        if (const auto file = file_name_.draw(desk, window, asked_for_report(app), keys_wait)) {
            desk.want(MakeReport{file->string()});
        }
    } else if (app.sheet == Sheet::open) {
        open_.draw(desk, window, keys_wait);
    }
}

void SheetHolder::close_others(Sheet open) {
    if (open != Sheet::open) {
        open_.closed();
    }
    if (open != Sheet::new_press) {
        new_press_.closed();
    }
    if (open != Sheet::save_as && open != Sheet::report) {
        file_name_.closed();
    }
    if (open != Sheet::search) {
        search_.closed();
    }
    if (open != Sheet::film) {
        film_.closed();
    }
    if (open != Sheet::molds) {
        molds_.closed();
    }
}

bool SheetHolder::takes_keys() const {
    return open_.takes_keys() || file_name_.takes_keys() || new_press_.takes_keys() || search_.takes_keys() ||
           film_.takes_keys() || molds_.takes_keys();
}

bool SheetHolder::takes_up(Sheet open) const {
    return file_name_.takes_up() || new_press_.takes_up() || search_.takes_up() || film_.takes_up() ||
           molds_.takes_up() || (open == Sheet::open && open_.takes_up());
}

} // namespace evenclose
