#include "viewer/app/apply.hpp"
#include "viewer/render/drawable_mesh.hpp"
#include "viewer/render/frame_of.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace evenclose {
namespace {

using Orders = std::vector<Order>;

bool known(const App& app, const std::string& name) {
    const std::vector<Body>& bodies = app.assembly->bodies;
    return std::any_of(bodies.begin(), bodies.end(), [&](const Body& body) { return body.drawn && body.name == name; });
}

void let_go_of(App& app, const std::string& body) {
    if (app.shown && std::find(app.shown->bodies.begin(), app.shown->bodies.end(), body) != app.shown->bodies.end()) {
        app.finding.reset();
        app.pair.reset();
        app.part.reset();
        app.shown.reset();
    }
    if (app.closely.picked == body) {
        app.closely.picked.clear();
    }
}

void know_reach(App& app) {
    app.closely.reach_mm = reach_over_stroke(*app.assembly);
    app.closely.unfilled = static_cast<std::size_t>(
        std::count_if(app.assembly->bodies.begin(), app.assembly->bodies.end(), [](const Body& body) {
            return body.drawn && body.mesh && body.part != Part::floor && !drawable_of(body.mesh)->closed;
        }));
}

struct AppliedClosely {
    App& app;
    Closely& closely = app.closely;

    Orders operator()(const SetSection& intent) const {
        if (!intent.to) {
            closely.section.reset();
            return {};
        }
        if (!app.assembly || !std::isfinite(intent.to->at_mm)) {
            return {};
        }
        if (!closely.section) {
            know_reach(app);
        }
        SectionCut cut = *intent.to;
        if (!closely.reach_mm.empty()) {
            cut.at_mm =
                std::clamp(cut.at_mm, of(closely.reach_mm.low_mm, cut.axis), of(closely.reach_mm.high_mm, cut.axis));
        }
        closely.section = cut;
        return {};
    }
    Orders operator()(const StepSection&) const {
        if (!app.assembly) {
            return {};
        }
        if (closely.section && closely.section->axis == Axis::z) {
            return (*this)(SetSection{});
        }
        if (!closely.section) {
            know_reach(app);
        }
        const Axis next = !closely.section ? Axis::x : closely.section->axis == Axis::x ? Axis::y : Axis::z;
        // Through what is looked at: a plane that takes it away would show nothing of it.
        const bool spot = app.shown && app.shown->at_mm;
        SectionCut cut{next, of(spot ? *app.shown->at_mm : closely.reach_mm.centre_mm(), next), false};
        cut.flipped = !seen_from(cut, app.camera);
        return (*this)(SetSection{cut});
    }
    Orders operator()(const MoveSection& intent) const {
        if (!closely.section) {
            return {};
        }
        SectionCut cut = *closely.section;
        cut.at_mm += intent.by_mm;
        return (*this)(SetSection{cut});
    }
    Orders operator()(const FlipSection&) const {
        if (closely.section) {
            closely.section->flipped = !closely.section->flipped;
        }
        return {};
    }
    Orders operator()(const SeeBody& intent) const {
        closely.menu.reset();
        if (!app.assembly) {
            return {};
        }
        const std::string body = intent.body.empty() ? closely.picked : intent.body;
        if (!known(app, body)) {
            app.notice = "Click a body first, then H hides it, J sees through it, I leaves it alone in the picture";
            app.notice_bad = false;
            return {};
        }
        BodySight& sight = closely.sight;
        switch (intent.how) {
        case SeeBody::How::hide:
            let_go_of(app, body);
            sight.ghosts.erase(body);
            if (sight.hidden.erase(body) == 0) {
                sight.hidden.insert(body);
            }
            break;
        case SeeBody::How::see_through:
            let_go_of(app, body);
            sight.hidden.erase(body);
            if (sight.ghosts.erase(body) == 0) {
                sight.ghosts.insert(body);
            }
            closely.picked = body; // still there to be clicked
            break;
        case SeeBody::How::alone:
            sight = {};
            for (const Body& other : app.assembly->bodies) {
                if (other.drawn && other.part != Part::floor && other.name != body) {
                    sight.hidden.insert(other.name);
                }
            }
            for (const std::string& name : sight.hidden) {
                let_go_of(app, name);
            }
            break;
        }
        return {};
    }
    Orders operator()(const SeeAllBodies&) const {
        closely.menu.reset();
        closely.sight = {};
        return {};
    }
    Orders operator()(const PickBody& intent) const {
        closely.picked = app.assembly && known(app, intent.body) ? intent.body : std::string();
        if (app.part && !closely.picked.empty() && *app.part != closely.picked) {
            app.part.reset();
            app.shown.reset();
        }
        return {};
    }
    Orders operator()(const OpenBodyMenu& intent) const {
        if (app.assembly && (intent.menu.body.empty() || known(app, intent.menu.body))) {
            closely.menu = intent.menu;
            closely.picked = intent.menu.body;
        }
        return {};
    }
    Orders operator()(const Measure& intent) const {
        closely.menu.reset();
        closely.measuring = {};
        if (app.assembly) {
            closely.measuring.what = intent.what;
        }
        if (closely.measuring.what != Measuring::What::off) {
            app.bent.reset();       // what is drawn bent is no measure
            app.loading_in.reset(); // of the press as it stands
        }
        return {};
    }
    Orders operator()(const StepMeasure&) const {
        using What = Measuring::What;
        const What now = closely.measuring.what;
        return (*this)(Measure{now == What::off ? What::points : now == What::points ? What::faces : What::off});
    }
    Orders operator()(const MeasureAt& intent) const {
        Measuring& measuring = closely.measuring;
        if (measuring.what == Measuring::What::off || !app.assembly) {
            return {};
        }
        if (measuring.places.size() >= 2) {
            measuring.places.clear();
        }
        measuring.places.push_back(intent.place);
        return {};
    }
    Orders operator()(const CopyMeasure&) const {
        const auto words = measure_words(app);
        if (!words) {
            return {};
        }
        app.notice = "Copied: " + words->value;
        app.notice_bad = false;
        app.copied = words->value;
        return {ToClipboard{words->value}};
    }
    Orders operator()(const ShowLabels& intent) const {
        closely.labels = intent.on;
        return {};
    }
    Orders operator()(const SaveFilm& intent) const {
        if (!app.assembly || closely.film) {
            return {};
        }
        app.sheet = Sheet::none;
        closely.film = intent.wanted;
        return {MakeFilm{intent.wanted}};
    }
    Orders operator()(const StopFilm&) const {
        if (!closely.film) {
            return {};
        }
        closely.film.reset();
        app.notice = "Stopped; no film was written";
        app.notice_bad = false;
        return {StopFilmJob{}};
    }
    Orders operator()(const FilmEnded& news) const {
        closely.film.reset();
        app.notice = news.fault.empty() ? fmt::format("Saved: {}, {} pictures", news.wanted.file, news.wanted.pictures)
                                        : news.fault;
        app.notice_bad = !news.fault.empty();
        return {};
    }
    Orders operator()(const CloseBodyMenu&) const {
        closely.menu.reset();
        return {};
    }
};

} // namespace

void look_again(App& app) {
    Closely& closely = app.closely;
    ++closely.revision;
    closely.menu.reset();
    closely.measuring.places.clear();
    const auto gone = [&](const std::string& name) { return !known(app, name); };
    std::erase_if(closely.sight.hidden, gone);
    std::erase_if(closely.sight.ghosts, gone);
    if (gone(closely.picked)) {
        closely.picked.clear();
    }
    if (closely.section) {
        know_reach(app);
    }
}

std::vector<Order> apply_closely(App& app, const CloselyIntent& intent) {
    const std::optional<SectionCut> section = app.closely.section;
    const BodySight sight = app.closely.sight;
    const std::string picked = app.closely.picked;
    std::vector<Order> orders = std::visit(AppliedClosely{app}, intent);
    if (section != app.closely.section || sight != app.closely.sight || picked != app.closely.picked) {
        ++app.closely.revision;
    }
    return orders;
}

} // namespace evenclose
