#include "viewer/ui/fields_panel.hpp"

#include "viewer/ui/words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace evenclose {
namespace {

constexpr float kRow_pt = 24, kField_pt = 20, kIndent_pt = 11;

const char* word_of(DocumentKind kind) {
    return kind == DocumentKind::press ? "Press" : kind == DocumentKind::mold ? "Mold" : "Set-up";
}

/// A row belongs to the group at `place`.
bool is_within(const std::string& inner, const std::string& place) {
    return inner.size() > place.size() && inner.starts_with(place) &&
           (inner[place.size()] == '.' || inner[place.size()] == '[');
}

void triangle(const Pen& pen, float x, float y, bool open, ImU32 colour) {
    const float s = pen.px(4);
    if (open) {
        pen.list().AddTriangleFilled({x - s, y - 0.6F * s}, {x + s, y - 0.6F * s}, {x, y + s}, colour);
    } else {
        pen.list().AddTriangleFilled({x - 0.6F * s, y - s}, {x + s, y}, {x - 0.6F * s, y + s}, colour);
    }
}

void cross(const Pen& pen, const Rect& place, ImU32 colour) {
    const float s = pen.px(3.5F);
    pen.line(place.middle_x() - s, place.middle_y() - s, place.middle_x() + s, place.middle_y() + s, colour, 1.4F);
    pen.line(place.middle_x() - s, place.middle_y() + s, place.middle_x() + s, place.middle_y() - s, colour, 1.4F);
}

} // namespace

void FieldsPanel::closed() {
    field_.end();
    typed_into_.reset();
    text_.reset();
}

void FieldsPanel::take_up_document(const Desk& desk) {
    const App& app = desk.app;
    if (texts_ != app.documents.texts) {
        texts_ = app.documents.texts;
        open_ = open_documents(app.documents);
    }
    const SharedText& text = app.documents.texts.at(app.fields.file);
    if (text == text_ && file_ == app.fields.file) {
        return;
    }
    text_ = text;
    file_ = app.fields.file;
    const auto known = std::find_if(open_.begin(), open_.end(), [&](const OpenDocument& o) { return o.file == file_; });
    const DocumentKind kind =
        known != open_.end() ? known->kind : kind_of_document(*text).value_or(DocumentKind::setup);
    rows_ = rows_of(kind, *text);
}

std::vector<std::size_t> FieldsPanel::visible(const App& app) const {
    std::vector<std::size_t> shown;
    const bool searching = !app.fields.sought.empty();
    std::string folded; // the group that hides what comes
    bool hides = false;
    for (std::size_t i = 0; i < rows_.size(); ++i) {
        const DocumentRow& row = rows_[i];
        if (searching) {
            // Groups that hold a match are shown above it.
            const bool holds = row.kind == DocumentRow::Kind::group &&
                               std::any_of(rows_.begin() + static_cast<long>(i) + 1, rows_.end(), [&](const auto& r) {
                                   return r.kind == DocumentRow::Kind::value && is_within(r.place, row.place) &&
                                          row_matches(r, app.fields.sought);
                               });
            if (holds || (row.kind == DocumentRow::Kind::value && row_matches(row, app.fields.sought))) {
                shown.push_back(i);
            }
            continue;
        }
        if (hides && (is_within(row.place, folded) || (row.kind == DocumentRow::Kind::add && row.place == folded))) {
            continue;
        }
        hides = false;
        shown.push_back(i);
        if (row.kind == DocumentRow::Kind::group && !app.fields.unfolded.contains(row.place)) {
            hides = true;
            folded = row.place;
        }
    }
    return shown;
}

float FieldsPanel::elsewhere(const Desk& desk, const Pen& pen, const Rect& place) {
    const App& app = desk.app;
    const FieldList& fields = app.fields;
    if (elsewhere_sought_ != fields.sought || elsewhere_from_ != fields.file ||
        elsewhere_texts_ != app.documents.texts) {
        elsewhere_sought_ = fields.sought;
        elsewhere_from_ = fields.file;
        elsewhere_texts_ = app.documents.texts;
        elsewhere_.clear();
        for (const OpenDocument& open : open_) {
            if (fields.sought.empty() || open.file == fields.file) {
                continue;
            }
            const std::vector<DocumentRow> rows = rows_of(open.kind, *app.documents.texts.at(open.file));
            const auto found = std::count_if(rows.begin(), rows.end(), [&](const DocumentRow& row) {
                return row.kind == DocumentRow::Kind::value && row_matches(row, fields.sought);
            });
            if (found > 0) {
                elsewhere_.push_back({open.file, fmt::format("{} in {} ({})", found, file_name(open.file.string()),
                                                             word_of(open.kind))});
            }
        }
    }
    float y = place.y;
    for (std::size_t i = 0; i < elsewhere_.size(); ++i) {
        const std::string id = fmt::format("fields.elsewhere.{}", i);
        const Rect line{place.x, y, place.width, pen.px(22)};
        const Pressable press = pen.pressable(id.c_str(), line);
        desk.places.note(id, line);
        if (press.hovered) {
            pen.fill(line, colour::accent_pale, 2);
            ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
            pen.tip("Go there; what is sought stays");
        }
        pen.text(line.x, line.middle_y() - 0.5F * pen.height_of(Face::small), Face::small, colour::accent,
                 elsewhere_[i].words, line.width);
        if (press.pressed) {
            desk.want(EditIntent{ShowFields{elsewhere_[i].file, "", false}});
        }
        y += line.height;
    }
    return y - place.y + (elsewhere_.empty() ? 0.0F : pen.px(6));
}

std::optional<std::string> FieldsPanel::beside(const App& app, const std::string& place, int by) const {
    std::vector<std::string> places;
    for (const std::size_t i : visible(app)) {
        for (const FieldPart& part : rows_[i].parts) {
            places.push_back(part.place);
        }
    }
    if (places.empty()) {
        return std::nullopt;
    }
    const auto found = std::find(places.begin(), places.end(), place);
    const auto count = static_cast<long>(places.size());
    const long at = found == places.end() ? (by > 0 ? -1 : count) : found - places.begin();
    return places[static_cast<std::size_t>(((at + by) % count + count) % count)];
}

void FieldsPanel::draw(const Desk& desk, const Rect& rect, bool keys_waiting) {
    const Pen pen = desk.pen();
    const App& app = desk.app;
    desk.places.note("bench", rect);
    pen.fill(rect, colour::board);
    pen.line(rect.right() - pen.px(1), rect.y, rect.right() - pen.px(1), rect.bottom(), colour::pencil);
    take_up_document(desk);
    if (typed_into_ != app.fields.field) {
        typed_into_ = app.fields.field;
        field_.end();
        if (typed_into_) {
            std::string text = app.fields.sought;
            for (const DocumentRow& row : rows_) {
                for (const FieldPart& part : row.parts) {
                    if (part.place == *typed_into_) {
                        text = part.typed;
                    }
                }
            }
            field_.begin(std::move(text));
        }
    }
    if (app.fields.step != 0) {
        desk.want(TypeInto{beside(app, "", app.fields.step)});
    }
    drawn_ = false;
    const float x = rect.x + pen.px(10);
    const float width = rect.width - pen.px(20);
    heads(desk, {x, rect.y + pen.px(6), width, pen.px(30)});
    const Rect sought{x, rect.y + pen.px(40), width, pen.px(26)};
    search(desk, sought, keys_waiting);
    const float top = sought.bottom() + pen.px(6);
    pen.line(rect.x, top, rect.right(), top, colour::pencil);
    list(desk, {rect.x, top + 1, rect.width - pen.px(1), rect.bottom() - top - 1}, keys_waiting);
    if (typed_into_ && !drawn_) {
        desk.want(TypeInto{std::nullopt}); // what it stood at is gone
    }
}

void FieldsPanel::heads(const Desk& desk, const Rect& rect) {
    const Pen pen = desk.pen();
    const float back = pen.px(56);
    if (pen.button("fields.close", {rect.right() - back, rect.y, back, rect.height}, "Bench", false,
                   "Back to the bench  ( E )")) {
        desk.want(ShowFields{});
    }
    float x = rect.x;
    const float step =
        std::min((rect.width - back) / static_cast<float>(std::max<std::size_t>(open_.size(), 1)), pen.px(62));
    std::array<int, 3> seen{};
    for (const OpenDocument& open : open_) {
        const int number = ++seen[static_cast<std::size_t>(open.kind)];
        const std::string words = number > 1
                                      ? fmt::format("{} {}", step < pen.px(48) ? "M" : word_of(open.kind), number)
                                      : std::string(word_of(open.kind));
        const std::string id = fmt::format("fields.{}.{}", name_of(open.kind), number);
        const Rect place{x, rect.y, step, rect.height};
        const std::string tip = open.name + "\n" + open.file.string();
        if (pen.button(id.c_str(), place, words, open.file == file_, tip.c_str())) {
            desk.want(ShowFields{open.file, {}});
        }
        if (desk.app.documents.unsaved(open.file)) {
            pen.list().AddCircleFilled({place.right() - pen.px(5), place.y + pen.px(7)}, pen.px(2.5F), colour::accent);
        }
        x += step;
    }
}

void FieldsPanel::search(const Desk& desk, const Rect& rect, bool keys_waiting) {
    const Pen pen = desk.pen();
    const App& app = desk.app;
    desk.places.note("fields.search", rect);
    if (typed_into_ && typed_into_->empty()) {
        drawn_ = true;
        const TextField::End end = field_.draw(pen, rect, "##sought", keys_waiting);
        if (end != TextField::End::given_up && field_.text() != app.fields.sought) {
            desk.want(FindFields{field_.text()});
        }
        if (end == TextField::End::given_up) {
            desk.want(FindFields{""});
            desk.want(TypeInto{std::nullopt});
        } else if (end == TextField::End::entered || end == TextField::End::next) {
            desk.want(TypeInto{beside(app, "", 1)});
        } else if (end == TextField::End::save) {
            desk.want(TypeInto{std::nullopt});
            desk.want(Save{});
        } else if (end == TextField::End::left) {
            desk.want(TypeInto{std::nullopt});
        }
        return;
    }
    const Pressable press = pen.pressable("fields.search", rect);
    pen.fill(rect, colour::card, 2);
    pen.outline(rect, press.hovered ? colour::accent : colour::pencil, 1, 2);
    if (press.hovered) {
        ImGui::SetMouseCursor(ImGuiMouseCursor_TextInput);
        pen.tip("Words of what you look for: \"left stroke\"  ( Ctrl F )");
    }
    const bool empty = app.fields.sought.empty();
    pen.text(rect.x + pen.px(6), rect.middle_y() - 0.5F * pen.height_of(Face::small), Face::small,
             empty ? colour::graphite : colour::ink, empty ? "find a number" : app.fields.sought,
             rect.width - pen.px(30));
    const Rect clear{rect.right() - pen.px(24), rect.y, pen.px(24), rect.height};
    if (!empty) {
        cross(pen, clear, colour::graphite);
    }
    if (press.pressed) {
        const ImVec2 mouse = ImGui::GetMousePos();
        if (!empty && clear.contains(mouse.x, mouse.y)) {
            desk.want(FindFields{""});
        } else {
            desk.want(TypeInto{std::string()});
        }
    }
}

void FieldsPanel::list(const Desk& desk, const Rect& rect, bool keys_waiting) {
    ImGui::SetCursorScreenPos({rect.x, rect.y});
    ImGui::BeginChild("fields", {rect.width, rect.height}, false, ImGuiWindowFlags_NoBackground);
    const Pen pen = desk.pen();
    const App& app = desk.app;
    const float start = ImGui::GetCursorScreenPos().y;
    float y = start + pen.px(4);
    const std::vector<std::size_t> shown = visible(app);
    if (shown.empty()) {
        pen.wrapped(rect.x + pen.px(12), y + pen.px(4), rect.width - pen.px(24), Face::small, colour::graphite,
                    rows_.empty() ? "This file is no document that could be read; mend it with a text editor."
                                  : "Nothing here is called that.");
        y += pen.px(28);
    }
    y += elsewhere(desk, pen, {rect.x + pen.px(12), y, rect.width - pen.px(28), rect.height});
    for (const std::size_t i : shown) {
        const float high = row(desk, pen, i, rect.x + pen.px(10), y, rect.width - pen.px(26), keys_waiting);
        const bool sought = std::any_of(rows_[i].parts.begin(), rows_[i].parts.end(), [&](const FieldPart& part) {
            return typed_into_ && part.place == *typed_into_;
        });
        if (sought && field_.takes_up() && (y < rect.y || y + high > rect.bottom())) {
            ImGui::SetScrollFromPosY(y + 0.5F * high - ImGui::GetWindowPos().y, 0.5F);
        }
        y += high;
    }
    ImGui::SetCursorScreenPos({rect.x, start});
    ImGui::Dummy({1, y - start + pen.px(10)});
    ImGui::EndChild();
}

float FieldsPanel::row(const Desk& desk, const Pen& pen, std::size_t index, float x, float y, float width,
                       bool keys_waiting) {
    const DocumentRow& row = rows_[index];
    const float left = x + pen.px(kIndent_pt) * static_cast<float>(row.depth);
    const float room = x + width - left;
    const float line = pen.px(kRow_pt);
    const float words_y = y + 0.5F * (line - pen.height_of(Face::small));
    ImGui::PushID(static_cast<int>(index));
    float high = line;
    const Rect remove{x + width - pen.px(18), y, pen.px(18), line};
    if (row.kind == DocumentRow::Kind::add) {
        const Rect place{left, y, room, line};
        const Pressable press = pen.pressable("add", place);
        desk.places.note("fields.add." + row.place, place);
        if (press.hovered) {
            pen.fill(place, colour::accent_pale, 2);
            ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
            pen.tip(row.description);
        }
        pen.text(left + pen.px(4), words_y, Face::small, colour::accent, "+ " + row.label, room - pen.px(8));
        if (press.pressed) {
            desk.want(EditDocuments{edits_to_add(row, file_), {}});
            const bool folded = !desk.app.fields.unfolded.contains(row.place);
            if (!row.there && folded) {
                desk.want(FoldGroup{row.place});
            }
        }
    } else if (row.kind == DocumentRow::Kind::group) {
        const bool open = desk.app.fields.unfolded.contains(row.place) || !desk.app.fields.sought.empty();
        if (row.removable && pen.pressable("remove", remove).pressed) {
            desk.want(EditDocuments{edits_to_remove(row, file_), {}});
        }
        const bool over_remove = row.removable && ImGui::IsItemHovered();
        const Rect place{left, y, room - (row.removable ? remove.width : 0), line};
        const Pressable press = pen.pressable("group", place);
        desk.places.note("fields.group." + row.place, place);
        if (row.removable) {
            desk.places.note("fields.remove." + row.place, remove);
            cross(pen, remove, over_remove ? colour::foul : colour::pencil);
        }
        if (press.hovered) {
            pen.fill(place, colour::hover, 2);
            ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
            pen.tip(row.description);
        } else if (over_remove) {
            pen.tip("Take " + row.label + " away");
        }
        triangle(pen, left + pen.px(6), y + 0.5F * line, open, colour::graphite);
        pen.text(left + pen.px(15), y + 0.5F * (line - pen.height_of(Face::small)), Face::small,
                 row.there ? colour::ink : colour::graphite, row.label, room - pen.px(36));
        const bool faulty =
            std::any_of(desk.app.document_faults.begin(), desk.app.document_faults.end(), [&](const DocumentFault& f) {
                return f.file == file_.string() && is_within(f.place, row.place);
            });
        if (faulty && !open) {
            pen.list().AddCircleFilled({x + width - pen.px(26), y + 0.5F * line}, pen.px(4), colour::foul);
        }
        if (row.depth == 0) {
            pen.line(left, y + line - pen.px(1), left + room, y + line - pen.px(1), colour::faint_line);
        }
        if (press.pressed) {
            desk.want(FoldGroup{row.place});
        }
        high += fault_words(desk, pen, row, left, y + high, room);
    } else {
        const float gap = pen.px(4);
        const float unit = row.unit.empty() ? 0.0F : pen.width_of(Face::small, row.unit) + pen.px(5);
        const auto count = static_cast<float>(row.parts.size());
        const bool words = row.value == ValueKind::text || row.value == ValueKind::texts;
        // As wide as a length in inches and fractions; words take what there is.
        const float narrow = pen.px(count > 1 ? 52 : words ? 128 : 84);
        const float label = pen.width_of(Face::small, row.label) + pen.px(8);
        const float fields = count * narrow + (count - 1) * gap + unit;
        const bool beside_label = label + fields <= room;
        pen.text(left, words_y, Face::small, row.there ? colour::graphite : colour::faint, row.label, room);
        if (ImGui::IsMouseHoveringRect({left, y}, {left + label, y + line}) && ImGui::IsWindowHovered()) {
            pen.tip(row.description);
        }
        const float fields_y = beside_label ? y : y + line - pen.px(3);
        const float each = beside_label ? narrow : (room - unit - (count - 1) * gap) / count;
        float at = x + width - unit - count * each - (count - 1) * gap;
        for (std::size_t part = 0; part < row.parts.size(); ++part) {
            ImGui::PushID(static_cast<int>(part));
            part_field(desk, pen, index, part,
                       {at, fields_y + pen.px(0.5F * (kRow_pt - kField_pt)), each, pen.px(kField_pt)}, keys_waiting);
            ImGui::PopID();
            at += each + gap;
        }
        if (unit > 0) {
            pen.text(x + width, fields_y + 0.5F * (line - pen.height_of(Face::small)), Face::small, colour::graphite,
                     row.unit, unit, Align::right);
        }
        high = (fields_y - y) + line;
        const bool typing = std::any_of(row.parts.begin(), row.parts.end(),
                                        [&](const FieldPart& part) { return typed_into_ == part.place; });
        if (typing && !row.choices.empty()) {
            // The words that are allowed, to be pressed.
            float cx = left;
            float cy = y + high;
            for (const std::string& choice : row.choices) {
                const float wide = pen.width_of(Face::small, choice) + pen.px(12);
                if (cx + wide > x + width) {
                    cx = left;
                    cy += pen.px(22);
                }
                if (pen.button(("fields.choice." + choice).c_str(), {cx, cy, wide, pen.px(22)}, choice,
                               choice == row.parts[0].typed, nullptr, Face::small)) {
                    desk.want(EditDocuments{edits_for(row, 0, choice, file_), {}});
                    desk.want(TypeInto{std::nullopt});
                }
                cx += wide + pen.px(2);
            }
            high = cy + pen.px(24) - y;
        }
        high += fault_words(desk, pen, row, left, y + high, room);
    }
    ImGui::PopID();
    return high;
}

float FieldsPanel::fault_words(const Desk& desk, const Pen& pen, const DocumentRow& row, float x, float y,
                               float width) const {
    float high = 0;
    for (const DocumentFault& fault : desk.app.document_faults) {
        const bool inside = row.kind == DocumentRow::Kind::value && is_within(fault.place, row.place);
        if (fault.file != file_.string() || (fault.place != row.place && !inside)) {
            continue;
        }
        std::string words = fault.found.empty() ? fault.problem : fault.found + " " + fault.problem;
        words += fault.allowed.empty() ? "" : "; " + fault.allowed;
        words += fault.nearest.empty() ? "" : fmt::format("; did you mean \"{}\"?", fault.nearest);
        const float tall =
            pen.wrapped(x + pen.px(8), y + high, width - pen.px(8), Face::small, colour::foul_word, words);
        pen.fill({x, y + high + pen.px(2), pen.px(3), tall - pen.px(4)}, colour::foul);
        desk.places.note("fields.fault." + fault.place, {x, y + high, width, tall});
        high += tall + pen.px(4);
    }
    return high;
}

void FieldsPanel::part_field(const Desk& desk, const Pen& pen, std::size_t index, std::size_t part, const Rect& rect,
                             bool keys_waiting) {
    const DocumentRow& row = rows_[index];
    const FieldPart& field = row.parts[part];
    desk.places.note("fields.at." + field.place, rect);
    if (typed_into_ == field.place) {
        drawn_ = true;
        const TextField::End end = field_.draw(pen, rect, "##field", keys_waiting);
        if (end != TextField::End::none) {
            end_typing(desk, end, index, part);
        }
        return;
    }
    const Pressable press = pen.pressable("field", rect);
    const bool faulty =
        std::any_of(desk.app.document_faults.begin(), desk.app.document_faults.end(), [&](const DocumentFault& fault) {
            return fault.file == file_.string() && (fault.place == field.place || fault.place == row.place);
        });
    pen.fill(rect, row.there ? colour::card : colour::card_missing, 2);
    pen.outline(rect, faulty ? colour::foul : press.hovered ? colour::accent : colour::pencil, faulty ? 1.4F : 1.0F, 2);
    if (press.hovered) {
        ImGui::SetMouseCursor(ImGuiMouseCursor_TextInput);
        pen.tip(row.description);
    }
    std::string words = field.typed;
    const float room = rect.width - pen.px(10);
    // A text longer than its field shows its end when typed into; nothing is lost, so it is no word cut off.
    while (!words.empty() && pen.width_of(Face::small, words + "…") > room &&
           pen.width_of(Face::small, field.typed) > room) {
        words = std::string(without_last_character(words));
    }
    if (words != field.typed) {
        words += "…";
    }
    const bool right = row.value == ValueKind::quantity || row.value == ValueKind::number;
    pen.text(right ? rect.right() - pen.px(5) : rect.x + pen.px(5), rect.middle_y() - 0.5F * pen.height_of(Face::small),
             Face::small, colour::ink, words, 1e9F, right ? Align::right : Align::left);
    if (press.pressed) {
        desk.want(TypeInto{field.place});
    }
}

void FieldsPanel::end_typing(const Desk& desk, TextField::End end, std::size_t row, std::size_t part) {
    if (end != TextField::End::given_up) {
        const std::vector<DocumentEdit> edits = edits_for(rows_[row], part, field_.text(), file_);
        if (!edits.empty()) {
            desk.want(EditDocuments{edits, {}});
        }
    }
    std::optional<std::string> next;
    if (end == TextField::End::next || end == TextField::End::previous) {
        next = beside(desk.app, rows_[row].parts[part].place, end == TextField::End::next ? 1 : -1);
    }
    desk.want(TypeInto{next});
    if (end == TextField::End::save) {
        desk.want(Save{});
    }
}

} // namespace evenclose
