// The bench: a card for the press, the mold and the ply stack, each a short list with its numbers, as on a cutting list.
#include "viewer/ui/commands.hpp"
#include "viewer/ui/edit_link.hpp"
#include "viewer/ui/panel.hpp"
#include "viewer/ui/part_lines.hpp"
#include "viewer/ui/words.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <set>
#include <string>
#include <utility>

namespace evenclose {
namespace {

using Line = std::pair<std::string, std::string>; // what, and how much

std::string size_words(const Vec2& size_mm, UnitSystem units) {
    return show_length(size_mm.x, units, 0) + " × " + show_length(size_mm.y, units, 0);
}

std::vector<Line> press_lines(const Desk& desk) {
    const Press& press = *desk.app.setup->press;
    const Assembly& assembly = *desk.app.assembly;
    const UnitSystem units = desk.app.units;
    std::vector<Line> lines;
    lines.reserve(8); // GCC 12 warns of its own vector else
    lines.emplace_back("daylight, open", show_length(assembly.daylight_mm, units, 1));
    lines.emplace_back("stroke, as parked", show_length(assembly.end_of_stroke.mm, units, 1));
    lines.emplace_back("platen", size_words(press.platen.size_mm, units));
    double load_N = 0;
    for (const Jack& jack : press.jacks) {
        load_N += jack.rated_load_N;
    }
    std::set<std::string> kinds;
    for (const Jack& jack : press.jacks) {
        kinds.insert(name_of(jack.kind));
    }
    lines.emplace_back("jacks", fmt::format("{}, {}", press.jacks.size(), fmt::join(kinds, " and ")));
    if (!press.link_shafts.empty()) {
        lines.emplace_back("link shafts", fmt::format("{}", press.link_shafts.size()));
    }
    if (load_N > 0) {
        lines.emplace_back("rated, together", show_force(load_N, units));
    }
    if (!press.guides.empty()) {
        lines.emplace_back("guides", fmt::format("{}", press.guides.size()));
    }
    return lines;
}

std::string half_words(const MoldHalf& half, UnitSystem units) {
    if (!half.mesh) {
        return "not read";
    }
    return size_words(bounds_of(*half.mesh).size_mm(), units);
}

std::vector<Line> mold_lines(const Desk& desk, const Mold& mold) {
    const Assembly& assembly = *desk.app.assembly;
    const UnitSystem units = desk.app.units;
    std::vector<Line> lines;
    lines.emplace_back("shut height", show_length(mold.closed_shut_height_mm(), units, 1));
    const Travel closed =
        desk.app.opening < assembly.openings.size() ? assembly.openings[desk.app.opening].closes : assembly.closed;
    const bool reached = closed <= assembly.end_of_stroke && closed.mm >= 0;
    lines.emplace_back("closed at", reached ? show_length(closed.mm, units, 1) : std::string("out of reach"));
    lines.emplace_back("upper half", half_words(mold.upper, units));
    lines.emplace_back("lower half", half_words(mold.lower, units));
    std::size_t triangles = 0;
    for (const MoldHalf* half : {&mold.lower, &mold.upper}) {
        triangles += half->mesh && std::holds_alternative<MeshHalf>(half->shape) ? half->mesh->triangles.size() : 0;
    }
    lines.emplace_back("drawn in", triangles > 0 ? grouped(triangles) + " triangles" : std::string("plain blocks"));
    return lines;
}

std::vector<Line> stack_lines(const PlyStack& stack, UnitSystem units) {
    std::vector<Line> lines;
    lines.emplace_back("pressed", show_length(stack.pressed_thickness_mm(), units));
    lines.emplace_back("loose", show_length(stack.loose_thickness_mm(), units));
    if (stack.decks > 1) {
        lines.emplace_back("decks on one another", fmt::format("{}", stack.decks));
    }
    const auto across = std::count_if(stack.plies.begin(), stack.plies.end(),
                                      [](const Ply& ply) { return ply.grain == Grain::across; });
    lines.emplace_back("plies", across > 0 ? fmt::format("{}, {} across", stack.plies.size(), across)
                                           : fmt::format("{}", stack.plies.size()));
    std::set<std::string> kinds;
    std::string species;
    for (const Ply& ply : stack.plies) {
        if (!ply.species.empty() && kinds.insert(ply.species).second) {
            species += (species.empty() ? "" : ", ") + ply.species;
        }
    }
    if (!species.empty()) {
        lines.emplace_back("veneer", species);
    }
    return lines;
}

/// The plies edge on, as thick as they are to each other: grain along as lines, a cross-band as end grain.
void draw_stack(const Pen& pen, const Rect& rect, const PlyStack& stack) {
    double whole = 0;
    for (const Ply& ply : stack.plies) {
        whole += std::max(ply.thickness_mm, 0.0);
    }
    if (!(whole > 0)) {
        return;
    }
    float y = rect.bottom();
    for (const Ply& ply : stack.plies) {
        const float high = rect.height * static_cast<float>(ply.thickness_mm / whole);
        const Rect place{rect.x, y - high, rect.width, high};
        pen.fill(place, ply.grain == Grain::along ? rgb(0xEBD6AC) : rgb(0xD9BC86));
        if (ply.grain == Grain::along) {
            for (const float at : {0.35F, 0.68F}) {
                if (high > pen.px(3)) {
                    pen.line(place.x + pen.px(3), place.y + at * high, place.right() - pen.px(3), place.y + at * high,
                             rgb(0xB99A5F, 170), 0.8F);
                }
            }
        } else {
            for (float x = place.x + pen.px(4); x < place.right() - pen.px(2); x += pen.px(5)) {
                pen.fill({x, place.middle_y() - pen.px(0.8F), pen.px(1.6F), pen.px(1.6F)}, rgb(0x80602A, 200));
            }
        }
        pen.line(rect.x, place.y, rect.right(), place.y, colour::ink, 0.8F);
        y -= high;
    }
    pen.outline(rect, colour::ink, 1);
}

struct Card {
    const Desk& desk;
    const Pen& pen;
    float x, width;
    float y; // where the next line goes

    /// Draws the paper behind last: its height is known only afterwards, so it goes to a layer below.
    void begin() const {
        pen.list().ChannelsSplit(2);
        pen.list().ChannelsSetCurrent(1);
    }
    void title(const char* kind, const std::string& name) {
        y += pen.px(8);
        const float right = x + width - pen.px(12);
        const float taken = pen.text(right, y + pen.px(2), Face::small, colour::graphite, kind, width, Align::right);
        pen.text(x + pen.px(12), y, Face::strong, colour::ink, name, width - pen.px(36) - taken);
        y += pen.px(25);
    }
    void line(const Line& line) {
        const float left = x + pen.px(12);
        const float right = x + width - pen.px(12);
        const float what = pen.width_of(Face::small, line.first);
        pen.text(left, y + pen.px(1), Face::small, colour::graphite, line.first, 0.5F * width);
        const float room = right - left - what - pen.px(10);
        const float number = pen.text(right, y, Face::small, colour::ink, line.second, room, Align::right);
        const float base = y + pen.height_of(Face::small) - pen.px(3);
        for (float at = right - number - pen.px(6); at > left + what + pen.px(4); at -= pen.px(4)) {
            pen.fill({at, base, pen.px(1), pen.px(1)}, colour::pencil); // leader dots guide the eye across
        }
        y += pen.px(18);
    }
    void note(const std::string& words) {
        y += pen.wrapped(x + pen.px(12), y, width - pen.px(24), Face::small, colour::tight_word, words) + pen.px(3);
    }
    void plain(const std::string& words) {
        y += pen.wrapped(x + pen.px(12), y + pen.px(3), width - pen.px(24), Face::small, colour::graphite, words) +
             pen.px(6);
    }
    void end(const char* id, float from) {
        y += edit_link(desk, pen, id, x + pen.px(10), y, width - pen.px(20));
        y += pen.px(5);
        const Rect paper{x, from, width, y - from};
        pen.list().ChannelsSetCurrent(0);
        pen.fill({paper.x + pen.px(1), paper.y + pen.px(2), paper.width, paper.height}, colour::shadow, 2);
        pen.fill(paper, colour::card, 2);
        pen.fill({paper.x, paper.y, paper.width, pen.px(3)}, colour::ink, 0);
        pen.list().ChannelsMerge();
        desk.places.note(id, paper);
        y += pen.px(9);
    }
};

/// A row for each opening, as they stand over one another: its mold, what it does at this travel. A click chooses it.
void opening_row(Card& card, std::size_t index) {
    const Desk& desk = card.desk;
    const Pen& pen = card.pen;
    const App& app = desk.app;
    const Rect row{card.x + pen.px(8), card.y, card.width - pen.px(16), pen.px(22)};
    ImGui::PushID(static_cast<int>(index));
    const Pressable press = pen.pressable("opening", row);
    ImGui::PopID();
    desk.places.note(fmt::format("bench.opening.{}", index + 1), row);
    const bool chosen = app.opening == index;
    if (chosen || press.hovered) {
        pen.fill(row, chosen ? mixed(colour::card, colour::accent, 0.22F) : mixed(colour::card, colour::ink, 0.07F), 2);
    }
    const float y = row.middle_y() - 0.5F * pen.height_of(Face::small);
    const OpeningState state = app.assembly->state_of(index, app.travel);
    const Mold& mold = *app.setup->openings[index].mold;
    const ImU32 ink = state == OpeningState::closing ? colour::accent : colour::ink;
    pen.text(row.x + pen.px(5), y, Face::small, colour::graphite, fmt::format("{}", index + 1));
    const float right = row.right() - pen.px(5);
    const float told = pen.text(right, y, Face::small, ink, name_of(state), row.width, Align::right);
    pen.text(row.x + pen.px(26), y, Face::small, colour::ink, mold.name.empty() ? file_name(mold.file) : mold.name,
             row.width - pen.px(40) - told);
    if (press.hovered) {
        ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
        pen.tip("Maps, cuts and the way in are of this opening's mold  ( O )");
    }
    if (press.pressed) {
        desk.want(ChooseOpening{index});
    }
    card.y += row.height;
}

void cards(const Desk& desk, const Rect& rect) {
    const Pen pen = desk.pen();
    const App& app = desk.app;
    const float start = ImGui::GetCursorScreenPos().y;
    Card card{desk, pen, rect.x + pen.px(12), rect.width - pen.px(24), start + pen.px(10)};

    float from = card.y;
    if (app.part) {
        card.begin();
        card.title("chosen", *app.part);
        for (const Line& line : part_lines(app, *app.part)) {
            card.line(line);
        }
        if (const std::string note = part_note(app, *app.part); !note.empty()) {
            card.plain(note);
        }
        card.end("bench.part", from);
        from = card.y;
    }
    card.begin();
    card.title("press", app.setup->press->name.empty() ? file_name(app.setup->press_file) : app.setup->press->name);
    for (const Line& line : press_lines(desk)) {
        card.line(line);
    }
    const float right = card.x + card.width - pen.px(8);
    const Rect week{right - pen.px(100), card.y + pen.px(2), pen.px(50), pen.px(22)};
    const Rect plan{right - pen.px(48), card.y + pen.px(2), pen.px(48), pen.px(22)};
    if (pen.button("bench.week", week, "Week", false, tip_with_key("The week at the presses", "week").c_str(),
                   Face::small)) {
        desk.want(ShowSheet{Sheet::week});
    }
    if (pen.button("bench.plan", plan, "Plan", false, tip_with_key("Ways to press more", "plan").c_str(),
                   Face::small)) {
        desk.want(ShowSheet{Sheet::plan});
    }
    card.end("bench.press", from);

    const std::vector<Opening>& openings = app.setup->openings;
    if (openings.size() > 1) {
        from = card.y;
        card.begin();
        card.title("from the top down", fmt::format("{} openings", openings.size()));
        for (std::size_t i = openings.size(); i-- > 0;) {
            opening_row(card, i);
        }
        card.end("bench.openings", from);
    }
    if (app.opening < openings.size() && openings[app.opening].mold) {
        const Mold& mold = *openings[app.opening].mold;
        from = card.y;
        card.begin();
        card.title(openings.size() > 1 ? fmt::format("opening {}", app.opening + 1).c_str() : "mold",
                   mold.name.empty() ? file_name(mold.file) : mold.name);
        for (const Line& line : mold_lines(desk, mold)) {
            card.line(line);
        }
        const bool slides = app.can_load_in();
        const float whole = card.width - pen.px(24);
        const float left = slides ? 0.5F * (whole - pen.px(8)) : 0;
        const Rect others{card.x + pen.px(12) + (slides ? left + pen.px(8) : 0), card.y + pen.px(4),
                          slides ? left : whole, pen.px(28)};
        if (slides) {
            const Rect key{card.x + pen.px(12), others.y, left, others.height};
            if (pen.button("bench.load_in", key, app.loading_in ? "Put it back" : "Slide it in",
                           app.loading_in.has_value(), "Slide the mold into the open press  ( L )")) {
                desk.want(LoadIn{!app.loading_in});
            }
        }
        if (pen.button("bench.molds", others, "Other molds", false,
                       tip_with_key("The molds of a folder, and how each fares in this press", "molds").c_str())) {
            desk.want(ShowSheet{Sheet::molds});
        }
        card.y += pen.px(36);
        card.end("bench.mold", from);

        from = card.y;
        card.begin();
        card.title("ply stack", show_length(mold.stack.pressed_thickness_mm(), app.units));
        const Rect edge{card.x + pen.px(12), card.y, card.width - pen.px(24), pen.px(38)};
        draw_stack(pen, edge, mold.stack);
        card.y += edge.height + pen.px(8);
        for (const Line& line : stack_lines(mold.stack, app.units)) {
            card.line(line);
        }
        card.end("bench.stack", from);
    }
    if (!app.notes.empty()) {
        from = card.y;
        card.begin();
        card.title("read with care", app.notes.size() == 1 ? "1 note" : fmt::format("{} notes", app.notes.size()));
        for (const std::string& note : app.notes) {
            card.note(note);
        }
        card.end("bench.notes", from);
    }
    ImGui::SetCursorScreenPos({rect.x, start});
    ImGui::Dummy({1, card.y - start});
}

} // namespace

void bench_panel(const Desk& desk, const Rect& rect) {
    const Pen pen = desk.pen();
    desk.places.note("bench", rect);
    pen.fill(rect, colour::board);
    pen.line(rect.right() - pen.px(1), rect.y, rect.right() - pen.px(1), rect.bottom(), colour::pencil);
    if (!desk.app.setup || !desk.app.assembly) {
        pen.wrapped(rect.x + pen.px(16), rect.y + pen.px(14), rect.width - pen.px(32), Face::small, colour::graphite,
                    "The bench: the press, the mold and the plies that lie between its halves.");
        return;
    }
    ImGui::SetCursorScreenPos({rect.x, rect.y});
    ImGui::BeginChild("bench cards", {rect.width - pen.px(1), rect.height}, false, ImGuiWindowFlags_NoBackground);
    cards(desk, rect);
    ImGui::EndChild();
}

} // namespace evenclose
