#include "viewer/cli/run.hpp"

#include "checks/check_list.hpp"
#include "scene/documents/nearest_word.hpp"
#include "scene/mesh/formats/recognise.hpp"
#include "viewer/app/fault_words.hpp"
#include "viewer/cli/commands.hpp"
#include "viewer/render/frame_of.hpp"
#include "viewer/ui/window.hpp"
#include "viewer/version.hpp"

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <exception>
#include <filesystem>
#include <functional>
#include <new>
#include <ostream>

namespace evenclose {
namespace {

constexpr std::array<std::string_view, 9> kCommands{"check",  "report", "picture", "profile", "export",
                                                    "pieces", "mesh",   "fit",     "plan"};

/// CLI11's own words for what is wrong, on one line.
std::string one_line(std::string text) {
    std::replace(text.begin(), text.end(), '\n', ' ');
    while (!text.empty() && text.back() == ' ') {
        text.pop_back();
    }
    return text;
}

/// A word of a fixed list, or a fault that offers the nearest one.
CLI::Validator one_of(std::vector<std::string> words, const char* what) {
    return CLI::Validator(
        [words = std::move(words), what](const std::string& typed) -> std::string {
            if (std::find(words.begin(), words.end(), typed) != words.end()) {
                return {};
            }
            const std::vector<std::string_view> views(words.begin(), words.end());
            const std::string_view nearest = nearest_word(typed, views);
            if (!nearest.empty()) {
                return fmt::format("no {} \"{}\"; did you mean {}?", what, typed, nearest);
            }
            return fmt::format("no {} \"{}\"; there are {}", what, typed, fmt::join(words, ", "));
        },
        fmt::format("one of: {}", fmt::join(words, " ")));
}

std::vector<std::string> check_ids() {
    std::vector<std::string> ids;
    for (const CheckEntry& entry : check_entries()) {
        ids.emplace_back(entry.id);
    }
    return ids;
}

/// "1280x800" into two numbers; both 16 to 16384.
bool read_size(const std::string& text, int& width, int& height) {
    const std::size_t by = text.find('x');
    if (by == std::string::npos) {
        return false;
    }
    const auto whole = [](std::string_view part, int& number) {
        const auto [rest, error] = std::from_chars(part.data(), part.data() + part.size(), number);
        return error == std::errc{} && rest == part.data() + part.size() && number >= 16 && number <= 16384;
    };
    return whole(std::string_view(text).substr(0, by), width) && whole(std::string_view(text).substr(by + 1), height);
}

CLI::Validator picture_size() {
    return CLI::Validator(
        [](const std::string& text) -> std::string {
            int width = 0;
            int height = 0;
            return read_size(text, width, height)
                       ? std::string{}
                       : fmt::format("\"{}\" is no size; give width x height in pixels, 16 to 16384, such as 1600x1000",
                                     text);
        },
        "WxH");
}

UnitSystem unit_system(bool inch) { return inch ? UnitSystem::inch : UnitSystem::metric; }

int run_words(const std::vector<std::string>& arguments, std::ostream& out, std::ostream& err) {
    CLI::App app(
        "Does the mold close evenly in this press? Checks a laminating press and its mold before timber is cut, "
        "a mold is printed or glue is opened.",
        "evenclose");
    app.set_version_flag("--version", std::string("evenclose ") + version());
    app.footer("Exit: 0 nothing is a no-go, 1 something is, 2 an input cannot be used, 64 wrong words here.");
    bool inch = false;

    WindowRequest window;
    std::string window_size;
    app.add_option("SETUP", window.setup_file, "set-up document to open in the window");
    app.add_option("--size", window_size, "size of the window")->check(picture_size());

    CheckCommand check;
    CLI::App* check_app = app.add_subcommand("check", "check a set-up and print what was found, worst first");
    check_app->add_option("SETUP", check.setup, "set-up document")->required();
    check_app->add_flag("--json", check.json, "as JSON (assets/schemas/findings.schema.json)");
    check_app->add_option("--only", check.only, "these checks only, by id, separated by commas")
        ->delimiter(',')
        ->check(one_of(check_ids(), "check"));
    check_app->add_option("--jobs", check.jobs, "threads at most; 0 = as many as the machine has")
        ->check(CLI::Range(0, 1024));
    const char* force_told =
        "force on the deck in place of the set-up's, such as \"28 kN\": what would then break first?";
    check_app->add_option("--force", check.force, force_told);
    check_app->add_flag("--inch", inch, "show lengths in inches and fractions");

    ReportCommand report;
    CLI::App* report_app =
        app.add_subcommand("report", "check a set-up and write all of it on one page, with pictures");
    report_app->add_option("SETUP", report.setup, "set-up document")->required();
    report_app->add_option("-o,--output", report.output, "file to write: .html (one page, nothing beside it) or .pdf")
        ->required();
    report_app->add_option("--paper", report.paper, "of a PDF")->check(one_of({"a4", "letter"}, "paper"));
    bool bare = false;
    report_app->add_flag("--no-pictures", bare, "without pictures: where OpenGL is not to be had");
    report_app->add_option("--jobs", report.jobs, "threads at most; 0 = as many as the machine has")
        ->check(CLI::Range(0, 1024));
    report_app->add_flag("--json", report.json, "print the findings as JSON too");
    report_app->add_flag("--inch", inch, "show lengths in inches and fractions");

    ProfileCommand profile;
    CLI::App* profile_app =
        app.add_subcommand("profile", "write clearance and tilt over the travel as a table for a spreadsheet");
    profile_app->add_option("SETUP", profile.setup, "set-up document")->required();
    profile_app->add_option("-o,--output", profile.output, "CSV file to write; left out or -: print it");
    profile_app->add_option("--jobs", profile.jobs, "threads at most; 0 = as many as the machine has")
        ->check(CLI::Range(0, 1024));
    profile_app->add_flag("--json", profile.json, "print the findings of travel and level as JSON too");

    ExportCommand exported;
    CLI::App* export_app =
        app.add_subcommand("export", "write the whole press as a glTF binary (.glb), the stroke as an animation");
    export_app->add_option("SETUP", exported.setup, "set-up document")->required();
    export_app->add_option("-o,--output", exported.output, ".glb file to write")->required();

    PiecesCommand pieces;
    CLI::App* pieces_app = app.add_subcommand("pieces", "cut a mold's halves into pieces that the printer takes");
    pieces_app->add_option("MOLD", pieces.mold, "mold document with a build volume")->required();
    pieces_app->add_option("-o,--output", pieces.folder, "folder to write them into, made if it is not there")
        ->required();
    pieces_app->add_flag("--3mf", pieces.three_mf, "as 3MF instead of STL");
    pieces_app->add_flag("--inch", inch, "show lengths in inches and fractions");

    PictureCommand picture;
    std::string picture_wxh;
    CLI::App* picture_app = app.add_subcommand("picture", "draw the press to a PNG file; needs no display");
    picture_app->add_option("SETUP", picture.setup, "set-up document")->required();
    picture_app->add_option("-o,--output", picture.output, "PNG file to write")->required();
    picture_app->add_option("--travel", picture.travel, "where on the stroke: a length, open (0) or closed");
    picture_app->add_option("--view", picture.view, "where from")->check(one_of(view_names(), "view"));
    picture_app->add_option("--map", picture.map, "colours on the lower half: gap less stack, curvature, pressure")
        ->check(one_of({"none", "cavity", "bend", "pressure"}, "map"));
    picture_app->add_flag("--forces", picture.forces,
                          "arrows for what each jack brings, and the head bears, at closed");
    picture_app->add_option("--force", picture.force, force_told);
    picture_app->add_flag("--cut", picture.cut, "cut the mold open along the deck, with the plies between the halves");
    picture_app->add_option("--opening", picture.opening, "of several openings: whose map or cut, 1 the lowest");
    picture_app->add_option("--size", picture_wxh, "pixels, such as 1600x1000")->check(picture_size());
    std::string tilt = "nominal";
    picture_app->add_option("--tilt", tilt, "which tilt of the platen")->check(one_of({"nominal", "worst"}, "tilt"));
    picture_app->add_flag(
        "--bent", picture.bent,
        "draw the frame bent by the closing force, at closed, coloured by how much of its strength it "
        "uses");
    picture_app->add_option("--magnify-bend", picture.bend_magnified, "draw the bending this many times as large")
        ->check(CLI::Range(1.0, 10000.0));
    picture_app->add_option("--magnify-tilt", picture.magnified, "draw the tilt this many times as large")
        ->check(CLI::Range(1.0, 1000.0));

    picture_app->add_option("--section", picture.section,
                            "cut everything open across an axis: x=120, y=-40 mm, z=31 1/2 in");
    picture_app->add_flag("--flip", picture.flip, "take away the other side of the section");
    picture_app->add_option("--hide", picture.hide, "bodies that are not drawn, by name")->take_all();
    picture_app->add_option("--see-through", picture.see_through, "bodies that are drawn see-through")->take_all();
    picture_app->add_option("--only", picture.only, "these bodies alone")->take_all();

    picture_app->add_flag("--names", picture.names, "write the bodies' names beside them");
    picture_app->add_flag("--scale-bar", picture.scale_bar, "a bar that tells how long a length is");
    CLI::Option* turntable =
        picture_app
            ->add_option("--turntable", picture.turntable, "so many pictures once round: -o turn.webp or turn-%03d.png")
            ->check(CLI::Range(2, 3600));
    picture_app->add_option("--stroke", picture.stroke, "so many pictures from open to closed")
        ->check(CLI::Range(2, 3600))
        ->excludes(turntable);
    picture_app->add_option("--fps", picture.fps, "pictures a second of a moving file")->check(CLI::Range(0.2, 60.0));

    FitCommand fit;
    CLI::App* fit_app = app.add_subcommand("fit", "one line a mold: it fits the press, or what stops it first");
    fit_app->add_option("PRESS", fit.press, "press document")->required();
    fit_app->add_option("MOLD", fit.molds, "mold documents, or folders of them")->required();
    fit_app->add_option("--like", fit.like, "a set-up whose limits and closing force hold");
    CLI::Option* fit_json = fit_app->add_flag("--json", fit.json, "as JSON (assets/schemas/fit.schema.json)");
    fit_app->add_flag("--csv", fit.csv, "as comma-separated values, for a spreadsheet")->excludes(fit_json);
    fit_app->add_option("--jobs", fit.jobs, "threads at most; 0 = as many as the machine has")
        ->check(CLI::Range(0, 1024));
    fit_app->add_flag("--inch", inch, "show lengths in inches and fractions");

    PlanCommand plan;
    CLI::App* plan_app =
        app.add_subcommand("plan", "how many openings go, what stops one more, and what it takes to press more");
    plan_app->add_option("PRESS", plan.press, "press document")->required();
    plan_app->add_option("MOLD", plan.molds, "mold documents, from the bottom opening up and then again; or folders")
        ->required();
    plan_app->add_option("--like", plan.like, "a set-up whose limits, closing force, crew, hours and costs hold");
    CLI::Option* decks = plan_app->add_option("--decks", plan.decks, "the least press for so many decks a pressing")
                             ->check(CLI::Range(1, 1000));
    plan_app->add_option("--decks-a-week", plan.decks_a_week, "the least press for so many decks a week")
        ->check(CLI::Range(0.1, 1e6))
        ->excludes(decks);
    plan_app->add_option("--platen", plan.platen, "thickness of intermediate platens");
    plan_app->add_option("-o,--output", plan.output, "folder to write the choices into, as set-ups");
    CLI::Option* plan_json = plan_app->add_flag("--json", plan.json, "as JSON (assets/schemas/plan.schema.json)");
    plan_app->add_flag("--csv", plan.csv, "the choices as comma-separated values")->excludes(plan_json);
    plan_app->add_option("--jobs", plan.jobs, "threads at most; 0 = as many as the machine has")
        ->check(CLI::Range(0, 1024));
    plan_app->add_flag("--inch", inch, "show lengths in inches and fractions");

    MeshCommand mesh;
    CLI::App* mesh_app = app.add_subcommand("mesh", "say how large a mesh file is, in which unit, and how sound");
    mesh_app->add_option("FILE", mesh.files, std::string("mesh files: ") + kFormatsRead)->required();
    mesh_app->add_option("--unit", mesh.unit, "unit of the files")
        ->check(one_of({"mm", "cm", "m", "in", "ft"}, "unit"));
    mesh_app->add_flag("--inch", inch, "show lengths in inches and fractions");
    mesh_app->add_flag("--json", mesh.json, "as JSON (assets/schemas/meshes.schema.json)");
    app.require_subcommand(0, 1);

    try {
        std::vector<std::string> reversed(arguments.rbegin(), arguments.rend()); // as CLI11 wants it
        app.parse(reversed);
    } catch (const CLI::Success& asked) { // --help, --version
        return app.exit(asked, out, err) == 0 ? kExitGo : kExitUsage;
    } catch (const CLI::ParseError& fault) {
        err << "evenclose: " << one_line(fault.what()) << " (evenclose --help lists what there is)\n";
        return kExitUsage;
    }

    if (check_app->parsed()) {
        check.units = unit_system(inch);
        return run_check(check, out, err);
    }
    if (picture_app->parsed()) {
        if (!picture_wxh.empty()) {
            read_size(picture_wxh, picture.width, picture.height);
        }
        picture.worst_tilt = tilt == "worst";
        return run_picture(picture, out, err);
    }
    if (fit_app->parsed()) {
        fit.units = unit_system(inch);
        return run_fit(fit, out, err);
    }
    if (plan_app->parsed()) {
        plan.units = unit_system(inch);
        return run_plan(plan, out, err);
    }
    if (report_app->parsed()) {
        report.units = unit_system(inch);
        report.pictures = !bare;
        return run_report(report, out, err);
    }
    if (profile_app->parsed()) {
        return run_profile(profile, out, err);
    }
    if (pieces_app->parsed()) {
        pieces.units = unit_system(inch);
        return run_pieces(pieces, out, err);
    }
    if (export_app->parsed()) {
        return run_export(exported, out, err);
    }
    if (mesh_app->parsed()) {
        mesh.units = unit_system(inch);
        return run_mesh(mesh, out, err);
    }
    // A word that is no file and close to a command is a misspelt command, not a set-up.
    if (!window.setup_file.empty() && !std::filesystem::exists(window.setup_file)) {
        const std::string_view nearest = nearest_word(window.setup_file, kCommands);
        if (!nearest.empty()) {
            err << fmt::format("evenclose: no command and no file \"{}\"; did you mean {}?\n", window.setup_file,
                               nearest);
            return kExitUsage;
        }
        err << fmt::format("evenclose: {}: no such file\n", window.setup_file);
        return kExitUnusable;
    }
    if (!window_size.empty()) {
        read_size(window_size, window.width, window.height);
    }
    return run_window(window, err);
}

} // namespace

int run(const std::vector<std::string>& arguments, std::ostream& out, std::ostream& err) {
    // What no command expects: said in words, and not by an abort that looks like a fault of the set-up.
    try {
        return run_words(arguments, out, err);
    } catch (const std::bad_alloc&) { // std::string of its words would want some
        err << "evenclose: " << kNoMemory << '\n';
    } catch (const std::exception& fault) {
        err << fmt::format("evenclose: stopped: {}\n", fault.what());
    }
    return kExitUnusable;
}

} // namespace evenclose
