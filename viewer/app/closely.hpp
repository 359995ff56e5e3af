// viewer/app/closely.hpp: how closely the press is looked at: a section, bodies hidden or seen through, a measure, labels, what
// was clicked, a film that is made of it. Looks, not data: nothing of it is saved or undone, and no check knows of it.
#pragma once

#include "viewer/app/measuring.hpp"
#include "viewer/render/body_sight.hpp"
#include "viewer/render/section_cut.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <variant>

namespace evenclose {

/// The menu at a body: where it was opened, in pixels of the window.
struct BodyMenu {
    std::string body; // empty: beside the press
    float x = 0, y = 0;
    Vec3 at_mm{0.0}; // the place on the body
};

/// A film of what is shown, made in the background.
struct FilmWanted {
    enum class Kind { turn, stroke } kind = Kind::turn; // once round, or from open to closed
    std::string file;                                   // see read_film_name()
    std::size_t pictures = 36;
    double a_second = 12;
};

struct Closely {
    std::optional<SectionCut> section;
    Box reach_mm;             // of the press over its stroke, as far as it was asked for
    std::size_t unfilled = 0; // bodies whose mesh is not closed: a section draws no face in them
    BodySight sight;
    std::string picked; // the body that was clicked last
    std::optional<BodyMenu> menu;
    Measuring measuring;
    bool labels = false;
    std::optional<FilmWanted> film; // that is being made
    std::uint64_t revision = 0;     // counts what changes the picture
};

/// none: off.
struct SetSection {
    std::optional<SectionCut> to;
};
/// Off, across X, across Y, across Z, and off again. The side that is towards the viewer is taken away.
struct StepSection {};
struct MoveSection {
    double by_mm = 0;
};
struct FlipSection {};
/// How a body is looked at. `body` empty: the one that was clicked. hide and see_through again: as it was.
struct SeeBody {
    enum class How { hide, see_through, alone } how = How::hide;
    std::string body;
};
struct SeeAllBodies {};
struct PickBody {
    std::string body; // empty: none
};
struct OpenBodyMenu {
    BodyMenu menu;
};
struct CloseBodyMenu {};

struct Measure {
    Measuring::What what = Measuring::What::off;
};                     // begins anew
struct StepMeasure {}; // off, between points, between faces, and off again
/// The first place, or the second; a third begins anew.
struct MeasureAt {
    MeasuredPlace place;
};
struct CopyMeasure {};
struct ShowLabels {
    bool on = true;
};
struct SaveFilm {
    FilmWanted wanted;
};
struct StopFilm {};
/// What became of it; `fault` empty: it was written.
struct FilmEnded {
    FilmWanted wanted;
    std::string fault;
};

/// See Intent for why it is a class.
struct CloselyIntent : std::variant<SetSection, StepSection, MoveSection, FlipSection, SeeBody, SeeAllBodies, PickBody,
                                    OpenBodyMenu, CloseBodyMenu, Measure, StepMeasure, MeasureAt, CopyMeasure,
                                    ShowLabels, SaveFilm, StopFilm, FilmEnded> {
    using variant::variant;
    CloselyIntent();
    CloselyIntent(const CloselyIntent&);
    CloselyIntent(CloselyIntent&&) noexcept;
    CloselyIntent& operator=(const CloselyIntent&);
    CloselyIntent& operator=(CloselyIntent&&) noexcept;
    ~CloselyIntent();
};

} // namespace evenclose
