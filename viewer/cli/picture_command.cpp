#include "checks/frame/bent_shapes.hpp"
#include "checks/opening_view.hpp"
#include "viewer/app/camera_control.hpp"
#include "viewer/cli/commands.hpp"
#include "viewer/cli/loaded_setup.hpp"
#include "viewer/cli/picture_film.hpp"
#include "viewer/cli/picture_sight.hpp"
#include "viewer/cli/picture_words.hpp"
#include "viewer/render/cut_stack.hpp"
#include "viewer/render/face_map.hpp"
#include "viewer/render/force_arrows.hpp"
#include "viewer/render/frame_of.hpp"
#include "viewer/render/renderer.hpp"
#include "viewer/render/steepest.hpp"

#include "checks/phrase.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <exception>
#include <optional>
#include <ostream>

namespace evenclose {
namespace {

/// The travel asked for, or what is wrong with it.
Read<double> travel_of(const std::string& text, const Assembly& assembly) {
    if (text.empty() || text == "open") {
        return 0.0;
    }
    if (text == "closed") {
        return assembly.last.mm;
    }
    const Read<double> read = read_length_mm(text);
    if (const auto* mm = std::get_if<double>(&read); mm != nullptr && (*mm < 0 || *mm > assembly.end_of_stroke.mm)) {
        return Unreadable{fmt::format("--travel {}: this press travels from 0 to {}", text,
                                      show_length(assembly.end_of_stroke.mm, UnitSystem::metric))};
    }
    if (const auto* fault = std::get_if<Unreadable>(&read)) {
        return Unreadable{fmt::format("--travel: {}; or open, or closed", fault->why)};
    }
    return read;
}

/// The checks that a map or a cut draws, run by themselves.
CheckResults measured_for(const PictureCommand& command, const Setup& setup, const Assembly& assembly) {
    CheckRequest request;
    if (command.map != "none") {
        request.only.push_back(command.map == "pressure" ? "frame" : command.map);
    }
    if (command.cut || command.map == "pressure") {
        request.only.emplace_back("cavity");
    }
    Progress progress;
    return request.only.empty() ? CheckResults{} : run_checks(setup, assembly, request, progress);
}

/// What the run has to say about a map that cannot be drawn.
const Finding& why_not(const CheckResults& results) {
    const auto found = std::find_if(results.findings.begin(), results.findings.end(),
                                    [](const Finding& finding) { return finding.verdict == Verdict::not_checked; });
    return found != results.findings.end() ? *found : results.findings.front();
}

} // namespace

int run_picture(const PictureCommand& command, std::ostream& out, std::ostream& err) {
    const std::optional<Loaded<Setup>> loaded = setup_or_faults(command.setup, err);
    if (!loaded) {
        return kExitUnusable;
    }
    Setup setup = *loaded->value;
    if (!close_with(setup, command.force, err)) {
        return kExitUsage;
    }
    const Assembly assembly = assemble(setup);
    const std::size_t openings = setup.openings.size();
    if (command.opening < 1 || static_cast<std::size_t>(command.opening) > openings) {
        err << fmt::format("evenclose: --opening {}: this set-up has {}\n", command.opening,
                           openings == 1 ? "one" : fmt::format("1 to {}", openings));
        return kExitUsage;
    }
    const std::size_t opening = static_cast<std::size_t>(command.opening) - 1;
    const OpeningView view = view_of(setup, assembly, opening);
    const bool mapped = command.map != "none" || command.cut;
    const Read<double> travel = travel_of(command.travel.empty() && mapped ? "closed" : command.travel, assembly);
    if (const auto* fault = std::get_if<Unreadable>(&travel)) {
        err << "evenclose: " << fault->why << "\n";
        return kExitUsage;
    }
    const Read<Sighted> sighted = sighted_of(command, assembly);
    if (const auto* fault = std::get_if<Unreadable>(&sighted)) {
        err << "evenclose: " << fault->why << "\n";
        return kExitUsage;
    }
    const auto& [sight, section] = std::get<Sighted>(sighted);
    FrameRequest request;
    request.sight = &sight;
    request.at = Travel{std::get<double>(travel)};
    request.view = command.view.empty() ? "corner" : command.view;
    request.tilt_magnified = command.magnified;
    if (command.worst_tilt) {
        request.slope = steepest(assembly.rides[1].slope_range(request.at));
    }
    request.aspect = static_cast<double>(command.width) / command.height;
    if (mapped && command.view.empty()) {
        request.camera = camera_for_map(view.assembly, request.at, command.cut, request.aspect);
    }
    const CheckResults results = measured_for(command, setup, assembly);
    const std::optional<FaceMap> map =
        face_map(map_named(command.map).value_or(MapKind::none), setup, results, UnitSystem::metric, opening);
    const bool stack = command.cut && opening < results.cavities.size() && results.cavities[opening] &&
                       results.cavities[opening]->not_measured.empty();
    if ((command.map != "none" && !map) || (command.cut && !stack)) {
        const Finding& finding = why_not(results);
        err << fmt::format("evenclose: nothing to draw: {}. {}\n", shown(finding.title, UnitSystem::metric),
                           shown(finding.why, UnitSystem::metric));
        return kExitUnusable;
    }
    std::optional<BentShapes> bent;
    std::vector<ForceArrow> arrows;
    std::string also;
    if (command.bent || command.forces) {
        const Setup one = stack_as_one(setup, assembly, opening);
        const FrameMeasure measure = measure_frame(one, assembly, measure_pressure(one, assembly));
        if (!measure.computed()) {
            err << fmt::format("evenclose: {}: the frame was not computed: {}\n", command.bent ? "--bent" : "--forces",
                               measure.not_computed);
            return kExitUnusable;
        }
        request.at = assembly.last;
        if (command.bent) {
            const double times = command.bend_magnified > 0 ? command.bend_magnified : bend_to_see(measure, one);
            bent = bent_shapes(measure, one, assembly, times);
            request.bent = &*bent;
            also = fmt::format(
                ", bent by {} on the deck, drawn {:.0f} times; pale uses nothing, straw half, orange 90 %, dark "
                "red all or more of what it may bear",
                show_force(measure.force_N, UnitSystem::metric), times);
        }
        if (command.forces) {
            arrows = force_arrows(measure, one, assembly, request.at);
        }
    }
    const auto frame_for = [&](const FrameRequest& one) {
        Frame frame = frame_of(assembly, one);
        if (map) {
            lay_map(frame, view.assembly, *map);
        }
        if (stack) {
            lay_cut(frame, view.setup, view.assembly,
                    ply_solids(*results.cavities[opening], setup.openings[opening].mold->stack));
        }
        if (section) {
            frame.section = plane_of(*section);
        }
        add_force_arrows(frame, arrows);
        return frame;
    };
    const double points = std::max(1.0, command.height / 1000.0);
    const auto finish = [&](const Frame& frame, Image& image) {
        std::vector<PictureBox> taken;
        if (map) {
            taken.push_back(paint_scale(image, map->scale, points));
        }
        if (command.scale_bar) {
            taken.push_back(write_scale_bar(image, frame.camera, points));
        }
        write_forces(image, frame.camera, arrows, points);
        if (command.names) {
            write_names(image, frame, assembly, taken, points);
        }
    };
    if (section) {
        also += section_words(*section, frame_for(request).camera);
    }
    also += also_unseen(sight);
    try {
        if (command.turntable > 0 || command.stroke > 0) {
            const FilmOfPress film{assembly, request, frame_for, finish, mapped && command.view.empty()};
            return run_film(command, film, setup.name + also, out, err);
        }
        const Frame frame = frame_for(request);
        Image image = draw_offscreen(frame, command.width, command.height);
        finish(frame, image);
        write_png(image, command.output);
    } catch (const std::exception& fault) {
        err << "evenclose: " << fault.what() << "\n";
        return kExitUnusable;
    }
    out << fmt::format("{}: {} from the {}, {} of travel, {} x {}{}\n", command.output, setup.name,
                       mapped && command.view.empty() ? "mold" : request.view,
                       show_length(request.at.mm, UnitSystem::metric), command.width, command.height, also);
    return kExitGo;
}

} // namespace evenclose
