// viewer/app/intent.hpp: all that can happen to the window, as plain data: what a person wants, what the background job
// found, what the clock did. Panels and keys only make intents; viewer/app/apply.hpp alone changes the state.
#pragma once

#include "checks/check_list.hpp"
#include "checks/level/level_curves.hpp"
#include "scene/documents/documents.hpp"
#include "scene/units/units.hpp"
#include "viewer/app/closely.hpp"
#include "viewer/app/edit_intent.hpp"
#include "viewer/app/file_question.hpp"
#include "viewer/app/molds.hpp"
#include "viewer/app/planning.hpp"
#include "viewer/app/theme.hpp"
#include "viewer/render/frame.hpp"

#include <cstddef>
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace evenclose {

/// Counts the set-ups read since the window opened. What a job found carries the number it was started with, so that
/// nothing found for an older one is ever shown.
using Generation = std::uint64_t;

// What a person wants.
struct OpenSetup {
    std::string file;
};                     // asks first where there is unsaved work
struct CheckAgain {};  // reads the set-up from the disk again
struct CancelCheck {}; // stops reading or checking

struct SetTravel {
    Travel to;
}; // kept between 0 and the last reachable
struct MoveTravel {
    Rise by;
};
struct Play {
    bool on = true;
};
struct LoadIn {
    bool on = true;
}; // slides the mold into the open press, from outside; off: back to where it stands
struct SetPlaySpeed {
    double times = 1;
};

struct ChooseFinding {
    std::size_t index = 0;
}; // into CheckResults::findings
struct ChooseStep {
    int by = 1;
}; // the next one down the ledger, or the one before; around the ends
struct ChoosePair {
    std::size_t profile = 0;  // into CheckResults::profiles
    std::optional<Travel> at; // none: where the pair is worst
};
struct ChoosePart {
    std::string body;
}; // a member, head or platen: what it is, and what it bears when closed; another one: nothing
struct ClearChoice {};

struct SetView {
    std::string name;
}; // one of view_names()
struct MoveCamera {
    Camera camera;
}; // by hand: ends a flight
struct FlyTo {
    Camera camera;
}; // the same, but gently
struct SetPictureShape {
    double aspect = 1.6;
}; // width / height of the picture

/// What the picture shows of the mold: the press as it stands; the gap less the stack, or the curvature, in colours on the
/// lower half; the mold cut open with its stack; the pressure on the deck under bent platens, in colours too.
enum class Seeing { press, gap, curvature, cut, pressure };
struct SetSeeing {
    Seeing what = Seeing::press;
};
struct ChooseOpening {
    std::size_t index = 0; // from the bottom up
};                         // of several: whose mold maps, cuts, the bench and the way in are about
struct SetTiltMagnified {
    double times = 1;
};
struct ShowBent {
    bool on = true;
}; // the frame bent by the closing force, at closed, where the `frame` check computed it
struct SetUnits {
    UnitSystem units = UnitSystem::metric;
};

enum class Sheet {
    none,
    keys,
    cautions,
    open,
    week,
    plan,
    unsaved,
    left_behind,
    changed,
    save_as,
    report,
    new_press,
    compare,
    molds,
    which_half,
    search,
    film,
    shared,
    guide,
    asking
};
struct ShowSheet {
    Sheet sheet = Sheet::none;
}; // a sheet of paper over the press
struct SetTheme {
    ThemeWish wish = ThemeWish::as_desktop;
};
/// Of the guide: the chapter that is `by` further on, from `from` or else from the one that lies open.
struct TurnGuide {
    int by = 0;
    std::optional<std::size_t> from = {};
};
/// Onto the clipboard; `what` says what it was: "the finding".
struct CopyText {
    std::string text, what;
};
struct DropNotice {}; // it was there long enough
struct Quit {};       // asks first, too
struct MakeReport {
    std::string file;
}; // of what was checked

// What the background job found.
struct SetupRead {
    Generation generation = 0;
    std::shared_ptr<const Setup> setup;
    std::shared_ptr<const Assembly> assembly;
    std::vector<std::string> notes;
    std::vector<LevelCurve> level = {}; // known long before the stroke is swept
    DocumentTexts texts = {};           // of the set-up, its press and its molds
    FileStamps files = {};              // all that was read, as it stood before
};
struct SetupFaulty {
    Generation generation = 0;
    std::vector<std::string> faults;        // a sentence each
    std::vector<DocumentFault> places = {}; // the same, where they stand
    DocumentTexts texts = {};               // so far as they could be read
    FileStamps files = {};                  // all that was to be read, as it stood before
};
struct Checked {
    Generation generation = 0;
    std::shared_ptr<const CheckResults> results;
};
struct JobFailed {
    Generation generation = 0;
    std::string why;
};

struct ReportWritten {
    std::string words; // where it stands, or why it does not
    bool bad = false;
};

// What the clock did.
struct Elapse {
    double seconds = 0;
};

/// One of these. A class of its own, and so those of its parts, that what copies and destroys it is made once (intent.cpp) and not
/// in each of the hundred files that make one: that took a third of the time of a build.
struct Intent
    : std::variant<OpenSetup, CheckAgain, CancelCheck, SetTravel, MoveTravel, Play, LoadIn, SetPlaySpeed, ChooseFinding,
                   ChooseStep, ChoosePair, ChoosePart, ClearChoice, SetView, MoveCamera, FlyTo, SetPictureShape,
                   SetSeeing, ChooseOpening, SetTiltMagnified, ShowBent, SetUnits, ShowSheet, SetTheme, TurnGuide,
                   CopyText, DropNotice, Quit, SetupRead, SetupFaulty, Checked, JobFailed, Elapse, MakeReport,
                   ReportWritten, EditIntent, CloselyIntent, PlanIntent, MoldsIntent, FileQuestionIntent> {
    using variant::variant;
    Intent();
    Intent(const Intent&);
    Intent(Intent&&) noexcept;
    Intent& operator=(const Intent&);
    Intent& operator=(Intent&&) noexcept;
    ~Intent();
};

} // namespace evenclose
