#include "viewer/cli/commands.hpp"
#include "viewer/cli/loaded_setup.hpp"
#include "viewer/render/frame_of.hpp"
#include "viewer/render/renderer.hpp"

#include <fmt/format.h>

#include <cmath>
#include <exception>
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

Slope steepest(const SlopeRange& range) {
    return {std::abs(range.low.x) > std::abs(range.high.x) ? range.low.x : range.high.x,
            std::abs(range.low.y) > std::abs(range.high.y) ? range.low.y : range.high.y};
}

} // namespace

int run_picture(const PictureCommand& command, std::ostream& out, std::ostream& err) {
    const std::optional<Loaded<Setup>> loaded = setup_or_faults(command.setup, err);
    if (!loaded) {
        return kExitUnusable;
    }
    const Assembly assembly = assemble(*loaded->value);
    const Read<double> travel = travel_of(command.travel, assembly);
    if (const auto* fault = std::get_if<Unreadable>(&travel)) {
        err << "evenclose: " << fault->why << "\n";
        return kExitUsage;
    }
    FrameRequest request;
    request.at = Travel{std::get<double>(travel)};
    request.view = command.view;
    request.tilt_magnified = command.magnified;
    if (command.worst_tilt) {
        request.slope = steepest(assembly.rides[1].slope_range(request.at));
    }
    request.aspect = static_cast<double>(command.width) / command.height;
    try {
        write_png(draw_offscreen(frame_of(assembly, request), command.width, command.height), command.output);
    } catch (const std::exception& fault) {
        err << "evenclose: " << fault.what() << "\n";
        return kExitUnusable;
    }
    out << fmt::format("{}: {} from the {}, {} of travel, {} x {}\n", command.output, loaded->value->name, command.view,
                       show_length(request.at.mm, UnitSystem::metric), command.width, command.height);
    return kExitGo;
}

} // namespace evenclose
