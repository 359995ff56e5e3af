#include "viewer/cli/picture_film.hpp"

#include "viewer/app/camera_control.hpp"
#include "viewer/export/film_file.hpp"

#include <fmt/format.h>

#include <filesystem>
#include <numbers>
#include <ostream>
#include <system_error>

namespace evenclose {

int run_film(const PictureCommand& command, const FilmOfPress& film, const std::string& what, std::ostream& out,
             std::ostream& err) {
    const bool turns = command.turntable > 0;
    const Read<FilmName> read = read_film_name(command.output);
    if (const auto* fault = std::get_if<Unreadable>(&read)) {
        err << "evenclose: -o " << fault->why << "\n";
        return kExitUsage;
    }
    if (!turns && (command.bent || command.forces || !command.travel.empty())) {
        err << "evenclose: --stroke goes from open to closed; --bent and --forces are of the closed press, --travel of "
               "one "
               "place: leave them out\n";
        return kExitUsage;
    }
    const auto count = static_cast<std::size_t>(turns ? command.turntable : command.stroke);
    FrameRequest start = film.request;
    Vec3 pivot{0.0};
    if (turns) {
        if (!film.close) {
            start.camera = turntable_camera(film.assembly, start.view, start.aspect);
        }
        pivot = film.close ? start.camera->target_mm : reach_over_stroke(film.assembly).centre_mm();
    } else if (!start.camera) { // looked at the vertices once
        start.camera = camera_for(film.assembly, start.view, start.aspect);
    }
    const auto request_at = [&](std::size_t i) {
        FrameRequest request = start;
        if (turns) {
            const double turn = 2.0 * std::numbers::pi * static_cast<double>(i) / static_cast<double>(count);
            request.camera = orbited(*start.camera, pivot, turn, 0.0);
        } else {
            request.at.mm = film.assembly.last.mm * static_cast<double>(i) / static_cast<double>(count - 1);
        }
        return request;
    };
    Film pictures;
    pictures.pictures = count;
    pictures.width = command.width;
    pictures.height = command.height;
    pictures.frame_at = [&](std::size_t i) { return film.frame_for(request_at(i)); };
    pictures.finish = [&](std::size_t i, Image& image) { film.finish(film.frame_for(request_at(i)), image); };
    pictures.shown_ms = steady(count, command.fps, !turns);
    const FilmName& name = std::get<FilmName>(read);
    Progress progress;
    if (!save_film(pictures, name, progress)) {
        return kExitUnusable;
    }
    std::string size;
    if (name.moving) {
        std::error_code ignored;
        size =
            fmt::format(", {:.1f} MB", 1e-6 * static_cast<double>(std::filesystem::file_size(command.output, ignored)));
    }
    out << fmt::format("{}: {}, {}, {} pictures of {} x {}{}\n",
                       name.moving ? command.output : numbered(name, 1) + " to " + numbered(name, count), what,
                       turns ? "once round" : "open to closed", count, command.width, command.height, size);
    return kExitGo;
}

} // namespace evenclose
