#include "viewer/app/apply.hpp"

#include "checks/frame/frame_check.hpp"
#include "viewer/app/clearance_band.hpp"
#include "viewer/app/guide.hpp"
#include "viewer/app/moving.hpp"
#include "viewer/render/face_map.hpp"
#include "viewer/render/frame_of.hpp"
#include "viewer/render/sliding_mold.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace evenclose {
namespace {

using Orders = std::vector<Order>;

void set_travel(App& app, Travel to) {
    if (app.assembly && std::isfinite(to.mm)) {
        app.travel.mm = std::clamp(to.mm, 0.0, app.last().mm);
    }
}

void forget_choice(App& app) {
    app.finding.reset();
    app.pair.reset();
    app.part.reset();
    app.shown.reset();
}

/// Lights what was chosen, goes to its travel and flies to its spot.
void show(App& app, Finding finding, std::optional<Travel> at) {
    app.playing.on = false;
    app.loading_in.reset();
    if (at) {
        set_travel(app, *at);
    } else if (finding.travel) {
        set_travel(app, finding.travel->from);
    }
    if (finding.at_mm) {
        fly(app, camera_for(*app.assembly, finding, app.aspect));
        app.view.clear();
    }
    std::vector<std::string> bodies;
    for (const std::string& name : finding.bodies) {
        const std::vector<std::string> named = bodies_named(*app.assembly, name);
        bodies.insert(bodies.end(), named.begin(), named.end());
    }
    finding.bodies = std::move(bodies);
    app.shown = std::move(finding);
}

/// Into the opening that is chosen.
LoadPath way_in(const App& app) {
    const OpeningView view = shown_opening(app);
    return load_path(view.setup, view.assembly, *app.setup->press->load_from);
}

/// Maps and cuts are of one mold: the camera goes to it.
void look_at_mold(App& app) {
    app.view.clear();
    fly(app, camera_for_map(shown_opening(app).assembly, app.travel, app.seeing == Seeing::cut, app.aspect));
}

/// `file` may be the state's own.
Orders start(App& app, const std::string& file) {
    // Nothing of the set-up before stays: what is on screen never belongs to another one.
    App fresh;
    fresh.generation = app.generation + 1;
    fresh.stage = Stage::reading;
    fresh.file = file;
    fresh.units = app.units;
    fresh.aspect = app.aspect;
    fresh.playing.times = app.playing.times;
    fresh.tilt_magnified = app.tilt_magnified;
    fresh.session = app.session;
    fresh.asking = app.asking;
    fresh.notice = app.notice;
    fresh.notice_bad = app.notice_bad;
    fresh.closely.labels = app.closely.labels;
    fresh.closely.film = app.closely.film;
    fresh.setup_before = app.setup ? app.setup : app.setup_before;
    fresh.results_before = app.results ? app.results : app.results_before;
    fresh.planning.number = app.planning.number;
    fresh.molds = std::move(app.molds);
    const bool planned = app.planning.stage == Planning::Stage::running;
    app = std::move(fresh);
    Orders orders{StartJob{app.generation, app.file}};
    if (planned) {
        orders.emplace_back(EndPlan{});
    }
    return orders;
}

struct Applied {
    App& app;

    Orders operator()(const OpenSetup& intent) const {
        if (app.documents.unsaved()) {
            app.leaves = intent;
            app.sheet = Sheet::unsaved;
            return {};
        }
        return start(app, intent.file);
    }
    Orders operator()(const CheckAgain&) const {
        if (app.stage == Stage::empty) {
            return {};
        }
        if (app.assembly) { // it stays on screen until it is read again
            app.fields.field.reset();
            return read_from_disk(app);
        }
        const Camera camera = app.camera;
        const Travel travel = app.travel;
        const std::string view = app.view;
        const bool placed = app.camera_placed;
        const std::size_t opening = app.opening;
        Closely closely = std::move(app.closely);
        EditedDocuments documents = std::move(app.documents);
        DocumentTexts conflicts = std::move(app.conflicts);
        FieldList fields = std::move(app.fields);
        fields.field.reset();
        Orders orders = start(app, app.file);
        // What was edited and not saved stays; all else is read from the disk again.
        std::get<StartJob>(orders.front()).texts = documents.unsaved_texts();
        app.documents = std::move(documents);
        app.conflicts = std::move(conflicts);
        app.fields = std::move(fields);
        app.closely = std::move(closely);
        app.camera = camera;
        app.travel = travel; // kept between 0 and the last when the press is there again
        app.camera_placed = placed;
        app.opening = opening;
        app.view = view;
        return orders;
    }
    Orders operator()(const CancelCheck&) const {
        if (!app.busy()) {
            return {};
        }
        ++app.generation; // what the job may still hand over is no longer wanted
        app.stage = Stage::stopped;
        return {StopJob{}};
    }
    Orders operator()(const SetTravel& intent) const {
        app.playing.on = false;
        app.loading_in.reset();
        set_travel(app, intent.to);
        return {};
    }
    Orders operator()(const MoveTravel& intent) const { return (*this)(SetTravel{app.travel + intent.by}); }
    Orders operator()(const Play& intent) const {
        if (app.loading_in) {
            app.loading_in->on = intent.on;
            return {};
        }
        app.playing.on = intent.on && app.assembly && app.last().mm > 0.0;
        app.playing.rest_s = 0;
        if (app.travel >= app.last()) {
            app.playing.turn = -1.0;
        } else if (app.travel.mm <= 0.0) {
            app.playing.turn = 1.0;
        }
        return {};
    }
    Orders operator()(const LoadIn& intent) const {
        const Camera before = app.loading_in ? app.loading_in->before : app.camera;
        if (!intent.on || !app.can_load_in()) {
            end_loading(app);
            return {};
        }
        forget_choice(app);
        app.seeing = Seeing::press;
        app.playing.on = false;
        app.travel = {};
        app.closely.measuring = {}; // of the press as it stands
        app.loading_in = LoadingIn{std::make_shared<const LoadPath>(way_in(app)), 0, 0, true, 0, before};
        fly(app, camera_for_loading(*app.assembly, *app.loading_in->path, app.aspect));
        return {};
    }
    Orders operator()(const SetPlaySpeed& intent) const {
        if (intent.times > 0.0 && std::isfinite(intent.times)) {
            app.playing.times = intent.times;
        }
        return {};
    }
    Orders operator()(const ChooseFinding& intent) const {
        if (!app.results || intent.index >= app.results->findings.size()) {
            return {};
        }
        forget_choice(app);
        app.finding = intent.index;
        if (const Finding& told = app.results->findings[intent.index];
            !told.openings.empty() && told.openings.front() < app.setup->openings.size()) {
            app.opening = told.openings.front();
        }
        show(app, app.results->findings[intent.index], {});
        return {};
    }
    Orders operator()(const ChooseStep& intent) const {
        if (!app.results || app.results->findings.empty()) {
            return {};
        }
        const auto count = static_cast<long>(app.results->findings.size());
        const long start_at = app.finding ? static_cast<long>(*app.finding) : (intent.by > 0 ? -1 : count);
        const long next = ((start_at + intent.by) % count + count) % count;
        return (*this)(ChooseFinding{static_cast<std::size_t>(next)});
    }
    Orders operator()(const ChoosePair& intent) const {
        if (!app.results || intent.profile >= app.results->profiles.size()) {
            return {};
        }
        forget_choice(app);
        app.pair = intent.profile;
        const PairProfile& profile = app.results->profiles[intent.profile];
        Finding finding = as_finding(*app.assembly, profile);
        // A spot away from the pair's worst one has no known place, so the camera stays where it is.
        if (intent.at && finding.travel && *intent.at != finding.travel->from) {
            finding.at_mm.reset();
            finding.slope.reset();
        } else if (const auto told = finding_of_pair(app, intent.profile)) {
            app.finding = told;
            finding = app.results->findings[*told];
        }
        show(app, std::move(finding), intent.at);
        return {};
    }
    Orders operator()(const ChoosePart& intent) const {
        if (!app.assembly || app.loading_in) {
            return {};
        }
        const std::vector<Body>& bodies = app.assembly->bodies;
        const auto body =
            std::find_if(bodies.begin(), bodies.end(), [&](const Body& each) { return each.name == intent.body; });
        if (body == bodies.end() ||
            (body->part != Part::member && body->part != Part::head && body->part != Part::platen)) {
            return {};
        }
        forget_choice(app);
        app.part = intent.body;
        app.shown = part_as_finding(app, intent.body); // the camera stays: it was chosen by eye
        return {};
    }
    Orders operator()(const ClearChoice&) const {
        if (app.loading_in) {
            end_loading(app);
            return {};
        }
        app.notice.clear();
        forget_choice(app);
        app.closely.picked.clear();
        ++app.closely.revision;
        return {};
    }
    Orders operator()(const SetView& intent) const {
        const auto& names = view_names();
        if (app.assembly && std::find(names.begin(), names.end(), intent.name) != names.end()) {
            app.view = intent.name;
            fly(app, camera_for(*app.assembly, intent.name, app.aspect));
        }
        return {};
    }
    Orders operator()(const MoveCamera& intent) const {
        app.camera = intent.camera;
        app.flight.reset();
        app.view.clear();
        return {};
    }
    Orders operator()(const FlyTo& intent) const {
        fly(app, intent.camera);
        app.view.clear();
        return {};
    }
    Orders operator()(const SetPictureShape& intent) const {
        if (!(intent.aspect > 0.0) || intent.aspect == app.aspect) {
            return {};
        }
        app.aspect = intent.aspect;
        // A standard view still shows the whole press after the window changed its shape.
        const auto& names = view_names();
        if (app.assembly && std::find(names.begin(), names.end(), app.view) != names.end()) {
            app.flight.reset();
            app.camera = camera_for(*app.assembly, app.view, app.aspect);
        }
        return {};
    }
    Orders operator()(const SetSeeing& intent) const {
        if (intent.what == app.seeing || !app.can_see(intent.what)) {
            return {};
        }
        app.seeing = intent.what;
        app.bent.reset();
        app.loading_in.reset(); // a map is of the mold in its place
        if (intent.what == Seeing::press) {
            app.view = "corner";
            fly(app, camera_for(*app.assembly, app.view, app.aspect));
        } else {
            // Maps and cuts are of the closed mold.
            app.playing.on = false;
            set_travel(app, app.last());
            look_at_mold(app);
        }
        return {};
    }
    Orders operator()(const ChooseOpening& intent) const {
        if (!app.setup || !app.assembly || intent.index >= app.setup->openings.size() || intent.index == app.opening) {
            return {};
        }
        app.opening = intent.index;
        if (app.loading_in) {
            return (*this)(LoadIn{true});
        }
        if (app.seeing != Seeing::press) {
            if (!app.can_see(app.seeing)) {
                return (*this)(SetSeeing{Seeing::press});
            }
            look_at_mold(app);
        }
        return {};
    }
    Orders operator()(const SetTiltMagnified& intent) const {
        if (intent.times >= 1.0 && std::isfinite(intent.times)) {
            app.tilt_magnified = intent.times;
        }
        return {};
    }
    Orders operator()(const ShowBent& intent) const {
        app.bent.reset();
        if (intent.on && app.results && app.results->frame && app.results->frame->computed()) {
            const FrameMeasure& frame = *app.results->frame;
            app.bent = std::make_shared<const BentShapes>(bent_shapes(frame, stack_as_one(*app.setup, *app.assembly, 0),
                                                                      *app.assembly, bend_to_see(frame, *app.setup)));
            app.seeing = Seeing::press;
            app.playing.on = false;
            app.loading_in.reset();
            app.closely.measuring = {}; // what is drawn bent is no measure
            set_travel(app, app.last());
        }
        return {};
    }
    Orders operator()(const SetUnits& intent) const {
        app.units = intent.units;
        return {};
    }
    Orders operator()(const ShowSheet& intent) const {
        app.sheet = intent.sheet;
        if (intent.sheet != Sheet::unsaved) {
            app.leaves.reset();
        }
        app.fields.field.reset();
        if (intent.sheet == Sheet::molds) {
            return open_molds(app);
        }
        return intent.sheet == Sheet::plan && app.planning.stage == Planning::Stage::none ? apply_plan(app, MakePlan{})
                                                                                          : Orders{};
    }
    Orders operator()(const SetTheme& intent) const {
        app.session.settings.theme = intent.wish;
        return {KeepSettings{app.session.settings}};
    }
    Orders operator()(const TurnGuide& intent) const {
        const auto last = static_cast<long>(guide_chapters().size()) - 1;
        const auto from = static_cast<long>(intent.from.value_or(app.guide_chapter));
        app.guide_chapter = static_cast<std::size_t>(std::clamp(from + intent.by, 0L, std::max(last, 0L)));
        return {};
    }
    Orders operator()(const CopyText& intent) const {
        if (intent.text.empty()) {
            app.notice = "There is nothing here to copy: choose a finding, or point at a number";
            app.notice_bad = false;
            return {};
        }
        app.copied = intent.text;
        app.notice = "Copied: " + intent.what;
        app.notice_bad = false;
        return {ToClipboard{intent.text}};
    }
    Orders operator()(const Quit&) const {
        if (app.documents.unsaved()) {
            app.leaves = Quit{};
            app.sheet = Sheet::unsaved;
            return {};
        }
        app.quit = true;
        return {StopJob{}};
    }
    Orders operator()(const SetupRead& news) const {
        if (news.generation != app.generation) {
            return {};
        }
        Orders orders;
        if (app.setup) { // edited: the one before stayed on screen
            orders = forget_plan(app);
            app.moving_mold.reset();
            app.setup_before = app.setup;
            app.results_before = app.results ? app.results : app.results_before;
            app.results.reset();
            app.bent.reset();
            app.loading_in.reset();
            forget_choice(app);
        }
        app.setup = news.setup;
        app.assembly = news.assembly;
        app.documents.setup = document_id(app.file);
        app.files = news.files;
        if (!app.taking_up.empty()) {
            app.notice = "Changed on the disk and read again: " + std::exchange(app.taking_up, {});
            app.notice_bad = false;
        }
        app.not_whole.clear();
        take_up(app.documents, news.texts);
        for (Order& order : molds_of_press_read(app)) {
            orders.push_back(std::move(order));
        }
        app.document_faults.clear();
        app.faults.clear();
        app.level = news.level;
        app.notes = news.notes;
        app.opening = std::min(app.opening, std::max<std::size_t>(app.setup->openings.size(), 1) - 1);
        app.stage = Stage::checking;
        set_travel(app, app.travel);
        look_again(app);
        if (!app.camera_placed) {
            app.camera = camera_for(*app.assembly, app.view, app.aspect);
            app.camera_placed = true;
        }
        return orders;
    }
    Orders operator()(const SetupFaulty& news) const {
        if (news.generation != app.generation) {
            return {};
        }
        app.files = news.files;
        app.not_whole.clear();
        const std::string changed = std::exchange(app.taking_up, {});
        if (!changed.empty() && app.assembly) {
            // Most likely another program is still writing it. What is on screen is of the files before, and stays.
            app.not_whole = news.faults.empty() ? changed + " cannot be read" : news.faults.front();
            app.stage = app.results ? Stage::checked : Stage::stopped;
            return {};
        }
        app.stage = Stage::faulty;
        app.faults = news.faults;
        app.document_faults = news.places;
        app.moving_mold.reset();
        app.documents.setup = document_id(app.file);
        take_up(app.documents, news.texts);
        // What was found belongs to documents that are no longer these.
        app.results_before = app.results ? app.results : app.results_before;
        app.results.reset();
        app.bent.reset();
        forget_choice(app);
        return {};
    }
    Orders operator()(const Checked& news) const {
        if (news.generation == app.generation && news.results) {
            app.stage = news.results->cancelled ? Stage::stopped : Stage::checked;
            app.results = news.results->cancelled ? nullptr : news.results;
            if (app.results && app.part) {
                app.shown = part_as_finding(app, *app.part); // now it is known what it uses
            }
            if (app.results) {
                app.setup_before.reset();
                app.results_before.reset();
            }
        }
        return {};
    }
    Orders operator()(const JobFailed& news) const {
        if (news.generation == app.generation) {
            app.stage = Stage::failed;
            app.faults = {news.why};
        }
        return {};
    }
    Orders operator()(const DropNotice&) const {
        if (!app.notice_bad && !app.writing_report) {
            app.notice.clear();
        }
        return {};
    }
    Orders operator()(const MakeReport& intent) const {
        app.sheet = Sheet::none;
        if (!app.results || !app.setup || !app.assembly) {
            app.notice = "The report is of what was checked: wait for the check, or press R";
            app.notice_bad = true;
            return {};
        }
        app.writing_report = true;
        app.notice = "Making the report ...";
        app.notice_bad = false;
        return {StartReport{intent.file, app.setup, app.assembly, app.results, app.notes, app.units}};
    }
    Orders operator()(const ReportWritten& news) const {
        app.writing_report = false;
        app.notice = news.words;
        app.notice_bad = news.bad;
        return {};
    }
    Orders operator()(const EditIntent& intent) const { return apply_edit(app, intent); }
    Orders operator()(const PlanIntent& intent) const { return apply_plan(app, intent); }
    Orders operator()(const CloselyIntent& intent) const { return apply_closely(app, intent); }
    Orders operator()(const MoldsIntent& intent) const { return apply_molds(app, intent); }
    Orders operator()(const FileQuestionIntent& intent) const { return apply_file_question(app, intent); }
    Orders operator()(const Elapse& clock) const {
        if (clock.seconds > 0.0) {
            elapse(app, clock.seconds);
        }
        return {};
    }
};

} // namespace

std::vector<Order> read_again(App& app) {
    if (!app.taking_up.empty()) { // what changed on the disk is not in memory yet
        return read_from_disk(app);
    }
    ++app.generation;
    app.stage = Stage::reading;
    return {StartJob{app.generation, app.file, app.documents.texts}};
}

std::vector<Order> read_from_disk(App& app) {
    ++app.generation;
    app.stage = Stage::reading;
    return {StartJob{app.generation, app.file, app.documents.unsaved_texts()}};
}

std::vector<Order> apply(App& app, const Intent& intent) {
    const Sheet before = app.sheet;
    Orders orders = std::visit(Applied{app}, intent);
    for (Order& order : sheet_left(app, before)) {
        orders.push_back(std::move(order));
    }
    return orders;
}

} // namespace evenclose
