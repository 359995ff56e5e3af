#include "viewer/ui/keys.hpp"

#include "viewer/app/open_documents.hpp"
#include "viewer/render/frame_of.hpp"

#include <GLFW/glfw3.h>

#include <algorithm>
#include <array>

namespace evenclose {
namespace {

constexpr std::array<double, 4> kMagnified{1.0, 10.0, 50.0, 100.0};

double next_magnified(double now) {
    const auto after = std::upper_bound(kMagnified.begin(), kMagnified.end(), now);
    return after == kMagnified.end() ? kMagnified.front() : *after;
}

/// Round in their order, past those that were not measured.
Seeing next_seeing(const App& app) {
    constexpr std::array<Seeing, 5> all{Seeing::press, Seeing::gap, Seeing::curvature, Seeing::cut, Seeing::pressure};
    const auto now = static_cast<std::size_t>(std::find(all.begin(), all.end(), app.seeing) - all.begin());
    for (std::size_t step = 1; step < all.size(); ++step) {
        const Seeing next = all[(now + step) % all.size()];
        if (app.can_see(next)) {
            return next;
        }
    }
    return app.seeing;
}

/// The press, or whatever there is while it cannot be read.
std::filesystem::path first_document(const App& app) {
    const std::vector<OpenDocument> open = open_documents(app.documents);
    const auto press =
        std::find_if(open.begin(), open.end(), [](const OpenDocument& o) { return o.kind == DocumentKind::press; });
    return press != open.end() ? press->file : open.empty() ? std::filesystem::path{} : open.front().file;
}

struct Steps {
    double fine_mm, plain_mm, great_mm;
};

Steps steps_of(UnitSystem units) {
    return units == UnitSystem::metric ? Steps{0.1, 1.0, 10.0}
                                       : Steps{kMmPerInch / 64.0, kMmPerInch / 16.0, kMmPerInch / 2.0};
}

} // namespace

std::optional<Intent> intent_of_key(const App& app, int key, int mods) {
    if ((mods & GLFW_MOD_CONTROL) != 0) {
        if (key == GLFW_KEY_N) {
            return ShowSheet{Sheet::new_press};
        }
        if (key == GLFW_KEY_O) {
            return ShowSheet{Sheet::open};
        }
        if (key == GLFW_KEY_Q) {
            return Quit{};
        }
        const bool shift = (mods & GLFW_MOD_SHIFT) != 0;
        if (key == GLFW_KEY_S) {
            return shift ? Intent{ShowSheet{Sheet::save_as}} : Intent{EditIntent{Save{}}};
        }
        if (key == GLFW_KEY_Z) {
            return shift ? EditIntent{Redo{}} : EditIntent{Undo{}};
        }
        if (key == GLFW_KEY_Y) {
            return EditIntent{Redo{}};
        }
        if (key == GLFW_KEY_F && !app.documents.texts.empty()) {
            return EditIntent{ShowFields{app.fields.file.empty() ? first_document(app) : app.fields.file, {}, true}};
        }
        return std::nullopt;
    }
    if ((mods & (GLFW_MOD_ALT | GLFW_MOD_SUPER)) != 0) {
        return std::nullopt;
    }
    const Steps steps = steps_of(app.units);
    const double step = (mods & GLFW_MOD_SHIFT) != 0 ? steps.fine_mm : steps.plain_mm;
    const auto& views = view_names();
    if (key >= GLFW_KEY_1 && key < GLFW_KEY_1 + static_cast<int>(views.size())) {
        return SetView{views[static_cast<std::size_t>(key - GLFW_KEY_1)]};
    }
    if (key >= GLFW_KEY_KP_1 && key < GLFW_KEY_KP_1 + static_cast<int>(views.size())) {
        return SetView{views[static_cast<std::size_t>(key - GLFW_KEY_KP_1)]};
    }
    switch (key) {
    case GLFW_KEY_SPACE:
        return Play{!app.plays()};
    case GLFW_KEY_UP:
        return MoveTravel{{step}};
    case GLFW_KEY_DOWN:
        return MoveTravel{{-step}};
    case GLFW_KEY_PAGE_UP:
        return MoveTravel{{steps.great_mm}};
    case GLFW_KEY_PAGE_DOWN:
        return MoveTravel{{-steps.great_mm}};
    case GLFW_KEY_HOME:
        return SetTravel{{0.0}};
    case GLFW_KEY_END:
        return SetTravel{app.last()};
    case GLFW_KEY_TAB:
        if (app.sheet != Sheet::none || app.documents.texts.empty()) {
            return std::nullopt;
        }
        return EditIntent{StepField{(mods & GLFW_MOD_SHIFT) != 0 ? -1 : 1}};
    case GLFW_KEY_ESCAPE:
        return app.sheet != Sheet::none ? Intent{ShowSheet{Sheet::none}} : Intent{ClearChoice{}};
    default:
        return std::nullopt;
    }
}

std::optional<Intent> intent_of_character(const App& app, char32_t character) {
    switch (character) {
    case U'?':
        return ShowSheet{app.sheet == Sheet::keys ? Sheet::none : Sheet::keys};
    case U'u':
    case U'U':
        return SetUnits{app.units == UnitSystem::metric ? UnitSystem::inch : UnitSystem::metric};
    case U't':
    case U'T':
        return SetTiltMagnified{next_magnified(app.tilt_magnified)};
    case U'm':
    case U'M':
        return SetSeeing{next_seeing(app)};
    case U'o':
    case U'O':
        return app.setup && app.setup->openings.size() > 1
                   ? std::optional<Intent>{ChooseOpening{(app.opening + 1) % app.setup->openings.size()}}
                   : std::nullopt;
    case U'b':
    case U'B':
        return ShowBent{app.bent == nullptr};
    case U'w':
    case U'W':
        return ShowSheet{app.sheet == Sheet::week ? Sheet::none : Sheet::week};
    case U'n':
    case U'N':
        return ChooseStep{1};
    case U'p':
    case U'P':
        return ChooseStep{-1};
    case U'e':
    case U'E':
        return EditIntent{
            ShowFields{app.fields.file.empty() ? first_document(app) : std::filesystem::path{}, {}, false}};
    case U'x':
    case U'X':
        return EditIntent{ToggleMold{}};
    case U'd':
    case U'D':
        return ShowSheet{app.sheet == Sheet::compare ? Sheet::none : Sheet::compare};
    case U'l':
    case U'L':
        return LoadIn{!app.loading_in};
    case U'r':
    case U'R':
        return CheckAgain{};
    case U'c':
    case U'C':
        return CancelCheck{};
    default:
        return std::nullopt;
    }
}

} // namespace evenclose
