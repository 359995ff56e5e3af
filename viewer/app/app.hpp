// viewer/app/app.hpp: the whole state of the window as plain data. Panels read it, apply() alone changes it.
#pragma once

#include "checks/frame/bent_shapes.hpp"
#include "checks/load_in/load_path.hpp"
#include "checks/opening_view.hpp"
#include "viewer/app/comparison.hpp"
#include "viewer/app/flight.hpp"
#include "viewer/app/intent.hpp"

#include <filesystem>
#include <memory>
#include <optional>
#include <set>
#include <string>
#include <variant>
#include <vector>

namespace evenclose {

/// empty: no set-up. reading: its documents and meshes. faulty: they cannot be used. checking: the press can be seen.
/// checked: findings are there. stopped: the check was cancelled. failed: reading or checking broke off.
enum class Stage { empty, reading, faulty, checking, checked, stopped, failed };

struct Playing {
    bool on = false;
    double times = 1;  // as fast as moving.hpp says
    double turn = 1;   // +1 closing, -1 opening
    double rest_s = 0; // how much longer it stands at an end
};

/// The mold on its way into the open press; when it is there, it is drawn as it stands again.
struct LoadingIn {
    std::shared_ptr<const LoadPath> path;
    std::size_t step = 0;
    double gone_mm = 0; // of the step's way
    bool on = true;     // false: it pauses
    double rest_s = 0;  // how much longer it rests in its place
    Camera before;      // where the camera was
};

/// The list of a document's fields, in the bench's place.
struct FieldList {
    std::filesystem::path file;       // of which document; empty: the bench is there
    std::optional<std::string> field; // the place that is typed into; empty: the search
    std::string sought;
    std::set<std::string> unfolded; // places of groups
    int step = 0;                   // to the next field, or the one before, at the next frame
};

/// What outlives a set-up.
struct Session {
    std::vector<std::string> recent;     // set-ups, the newest first
    std::vector<LeftBehind> left_behind; // unsaved work of windows that were stopped
    Settings settings;
    Theme desktop = Theme::light;
    bool beside_others = false; // who works here knows that another window has the documents open
};

struct App {
    Stage stage = Stage::empty;
    Generation generation = 0;
    std::string file;
    std::shared_ptr<const Setup> setup;
    std::shared_ptr<const Assembly> assembly;
    std::shared_ptr<const CheckResults> results;
    std::vector<LevelCurve> level; // the platen's slope over the travel
    // Of the set-up before, held until the new one is checked: meshes that have not changed are not read nor prepared anew.
    std::shared_ptr<const Setup> setup_before;
    std::shared_ptr<const CheckResults> results_before;
    EditedDocuments documents;
    std::vector<DocumentFault> document_faults; // of the last reading; `file` is the document_id
    FieldList fields;
    std::optional<ComparedMold> compared; // the mold before the last swap
    std::string dropped_mesh;             // of which is asked what half it is for
    std::optional<MoveMold> moving_mold;  // while it is dragged
    Planning planning;
    Molds molds; // outlives a set-up too: a folder is for all of them
    bool writing_report = false;
    FileAsking asking;
    std::filesystem::path proposed; // for the sheet that asks for a name; empty: as usual
    Session session;
    std::string notice;      // one line for the person: what was saved, undone, is in the way
    bool notice_bad = false; // it tells of a fault
    FileStamps files;        // all that was read, as it stood
    std::string taking_up;   // names of files that changed on the disk and are being read again
    std::string not_whole;   // what is wrong with them: the press on screen is of the files before
    DocumentTexts
        conflicts; // documents edited here that changed on the disk: what they are there; null: cannot be read
    std::optional<std::variant<OpenSetup, Quit>> leaves; // what waits for an answer about unsaved work
    std::vector<std::string> notes;                      // of reading: guessed units
    std::vector<std::string> faults;                     // why the set-up cannot be used, or why the job broke off

    Travel travel;
    std::optional<std::size_t> finding; // chosen, into results->findings
    std::optional<std::size_t> pair;    // chosen, into results->profiles
    std::optional<std::string> part;    // chosen: a member, head or platen, by its body's name
    std::optional<Finding> shown;       // what the picture lights and marks, of the chosen one
    Playing playing;
    std::optional<LoadingIn> loading_in;
    double tilt_magnified = 1;
    Seeing seeing = Seeing::press;
    std::size_t opening = 0;                // chosen, of several
    std::shared_ptr<const BentShapes> bent; // drawn at closed in place of the press as it is; null: it is not asked for

    Closely closely;

    Camera camera;
    bool camera_placed = false; // false: the press, once read, is shown whole
    std::optional<Flight> flight;
    std::string view = "corner"; // the standard view last asked for; empty once the camera was moved by hand
    double aspect = 1.6;

    UnitSystem units = UnitSystem::metric;
    Sheet sheet = Sheet::none;
    std::size_t guide_chapter = 0;
    std::string copied; // what was last put onto the clipboard
    bool quit = false;

    /// What is on screen is the press before edits that cannot be used yet.
    [[nodiscard]] bool shows_last_good() const { return stage == Stage::faulty && assembly != nullptr; }
    [[nodiscard]] Theme theme() const { return theme_for(session.settings.theme, session.desktop); }
    /// Keys belong to a field.
    [[nodiscard]] bool typing() const {
        return fields.field.has_value() || sheet == Sheet::open || sheet == Sheet::save_as || sheet == Sheet::report ||
               sheet == Sheet::new_press || sheet == Sheet::search || sheet == Sheet::film || sheet == Sheet::molds ||
               sheet == Sheet::asking;
    }
    [[nodiscard]] bool busy() const { return stage == Stage::reading || stage == Stage::checking; }
    /// The stroke, or the way in, is played.
    [[nodiscard]] bool plays() const { return loading_in ? loading_in->on : playing.on; }
    /// Something moves by itself: frames are due without any input.
    [[nodiscard]] bool moving() const { return plays() || flight.has_value(); }
    /// The press says from where a mold comes in, and there is one.
    [[nodiscard]] bool can_load_in() const;
    /// What was measured for it is there.
    [[nodiscard]] bool can_see(Seeing what) const;
    [[nodiscard]] Travel last() const { return assembly ? assembly->last : Travel{}; }
    /// Of all findings; none as long as there are none for this set-up.
    [[nodiscard]] std::optional<Verdict> verdict() const;
};

/// The opening that is chosen, as if it were a press of its own.   Needs: a set-up with openings, its assembly.
[[nodiscard]] OpeningView shown_opening(const App& app);
/// As that check measured it for the opening that is chosen; null if it was not asked.
[[nodiscard]] std::shared_ptr<const CavityMeasure> shown_cavity(const App& app);

/// The slope the platen is drawn with. At the travel of a chosen finding, the finding's own; when magnified, the
/// steepest that the jacks allow at this travel; else the nominal one.
struct ShownSlope {
    Slope slope;
    enum class Of { nominal, steepest, finding } of = Of::nominal;
};
[[nodiscard]] ShownSlope shown_slope(const App& app);

/// What is drawn bent at this travel: the frame bends when the press is closed; null elsewhere.
[[nodiscard]] const BentShapes* shown_bent(const App& app);

/// Forces are drawn as arrows: with the frame bent, or the pressure in colours, at closed.
[[nodiscard]] bool shows_forces(const App& app);

/// Platen's face to head's underside at the travel, nominal, mm. Needs: an assembly.
[[nodiscard]] double daylight_mm(const Assembly& assembly, Travel at);

/// The index in findings of what the `travel` check says of this pair, if it says something of its own.
[[nodiscard]] std::optional<std::size_t> finding_of_pair(const App& app, std::size_t profile);
/// The bodies that a name in a finding means: the body of that name, else all parts of it ("jack left" is "jack left
/// body" and "jack left screw"); none if there is no such thing in the picture.
[[nodiscard]] std::vector<std::string> bodies_named(const Assembly& assembly, const std::string& name);

/// A part as something to light, with a verdict by what the frame check found that it uses.
[[nodiscard]] Finding part_as_finding(const App& app, const std::string& body);

/// A pair as something to light: its two bodies and the place where they are closest.
[[nodiscard]] Finding as_finding(const Assembly& assembly, const PairProfile& profile);

} // namespace evenclose
