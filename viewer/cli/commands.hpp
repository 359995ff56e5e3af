// viewer/cli/commands.hpp: what the program can be asked for on the command line; each command in a file of its own.
#pragma once

#include "scene/units/units.hpp"

#include <iosfwd>
#include <string>
#include <vector>

namespace evenclose {

// Exit codes (DESIGN.md section 8).
inline constexpr int kExitGo = 0;       // nothing is a no-go
inline constexpr int kExitNoGo = 1;     // something is
inline constexpr int kExitUnusable = 2; // an input cannot be used, an output cannot be written
inline constexpr int kExitUsage = 64;   // the words on the command line are wrong (sysexits.h EX_USAGE)

struct CheckCommand {
    std::string setup;
    std::vector<std::string> only;
    int jobs = 0;
    bool json = false;
    UnitSystem units = UnitSystem::metric;
    std::string force; // on the deck, in the place of the set-up's closing force; empty: as the set-up says
};
int run_check(const CheckCommand& command, std::ostream& out, std::ostream& err);

struct PictureCommand {
    std::string setup, output;
    std::string travel; // a length; "closed"; empty: 0
    std::string view;   // empty: "corner", or what shows a map or a cut best
    std::string map =
        "none";       // "cavity", "bend", "pressure": what was measured over the deck, in colours on the lower half
    bool cut = false; // the mold cut open along the deck, with the plies in it
    int opening = 1;  // of several, from the bottom up: which one a map or a cut is of
    int width = 1600, height = 1000;
    double magnified = 1;
    std::string force;                                // as CheckCommand's
    bool forces = false;                              // arrows at the jacks and under the head, with what they bring
    bool bent = false;                                // the frame bent by the closing force, at closed, coloured by use
    double bend_magnified = 0;                        // 0: as much as is needed to see it
    std::string section;                              // "x=120"; empty: nothing is cut away
    bool flip = false;                                // take away the section's other side
    std::vector<std::string> hide, see_through, only; // bodies by name
    int turntable = 0, stroke = 0; // so many pictures once round, or from open to closed; 0: one picture
    double fps = 12;               // of a moving file
    bool names = false;            // of the bodies, beside them
    bool scale_bar = false;
    bool worst_tilt = false; // the steepest that the jacks may give at that travel, instead of the nominal one
};
int run_picture(const PictureCommand& command, std::ostream& out, std::ostream& err);

struct FitCommand {
    std::string press;
    std::vector<std::string> molds; // documents, or folders of them
    std::string like;               // a set-up whose limits and closing force hold; empty: the documents' defaults
    int jobs = 0;
    bool json = false, csv = false;
    UnitSystem units = UnitSystem::metric;
};
int run_fit(const FitCommand& command, std::ostream& out, std::ostream& err);

struct PlanCommand {
    std::string press;
    std::vector<std::string> molds; // documents, or folders of them
    std::string like;               // a set-up with limits, crew, hours and costs; empty: the documents' defaults
    std::string output;             // a folder for the choices as documents; empty: none are written
    std::string platen;      // thickness of intermediate platens; empty: as in `like`, else as the press's platen
    int decks = 0;           // a pressing; 0: not asked
    double decks_a_week = 0; // 0: not asked
    int jobs = 0;
    bool json = false, csv = false;
    UnitSystem units = UnitSystem::metric;
};
int run_plan(const PlanCommand& command, std::ostream& out, std::ostream& err);

struct ReportCommand {
    std::string setup, output; // .html or .pdf
    std::string paper = "a4";  // or "letter", of a PDF
    bool pictures = true;
    bool json = false; // the findings as `check --json` prints them, beside the file
    int jobs = 0;
    UnitSystem units = UnitSystem::metric;
};
/// Exits as `check` does.
int run_report(const ReportCommand& command, std::ostream& out, std::ostream& err);

struct ProfileCommand {
    std::string setup, output; // empty or "-": to `out`
    bool json = false;
    int jobs = 0;
};
int run_profile(const ProfileCommand& command, std::ostream& out, std::ostream& err);

struct ExportCommand {
    std::string setup, output; // .glb
};
int run_export(const ExportCommand& command, std::ostream& out, std::ostream& err);

struct PiecesCommand {
    std::string mold, folder; // a mold document; where the pieces are written
    bool three_mf = false;
    UnitSystem units = UnitSystem::metric;
};
int run_pieces(const PiecesCommand& command, std::ostream& out, std::ostream& err);

struct MeshCommand {
    std::vector<std::string> files;
    std::string unit; // stated for all; empty: as the file says, or guessed
    bool json = false;
    UnitSystem units = UnitSystem::metric;
};
int run_mesh(const MeshCommand& command, std::ostream& out, std::ostream& err);

} // namespace evenclose
