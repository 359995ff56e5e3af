#include "viewer/ui/film_of.hpp"

#include "viewer/app/camera_control.hpp"
#include "viewer/ui/picture_frame.hpp"

#include <algorithm>
#include <cmath>
#include <memory>
#include <numbers>

namespace evenclose {
namespace {

constexpr int kWidth = 1280;

} // namespace

Film film_of(const App& app, const FilmWanted& wanted) {
    auto still = std::make_shared<App>(app);
    still->playing.on = false;
    still->flight.reset();
    still->loading_in.reset();
    still->closely.picked.clear();
    auto measured = std::make_shared<const std::optional<MeasuredPicture>>(measured_picture(*still, std::nullopt));
    Film film;
    film.pictures = std::max<std::size_t>(wanted.pictures, 2);
    film.width = kWidth;
    film.height = std::clamp(2 * static_cast<int>(std::lround(0.5 * kWidth / still->aspect)), 2, 4096);
    film.shown_ms = steady(film.pictures, wanted.a_second, wanted.kind == FilmWanted::Kind::stroke);
    film.frame_at = [still, measured, kind = wanted.kind, count = film.pictures](std::size_t i) {
        App now = *still;
        if (kind == FilmWanted::Kind::turn) {
            const double turn = 2.0 * std::numbers::pi * static_cast<double>(i) / static_cast<double>(count);
            now.camera = orbited(now.camera, now.camera.target_mm, turn, 0.0);
        } else {
            now.travel.mm = now.last().mm * static_cast<double>(i) / static_cast<double>(count - 1);
        }
        return picture_frame(now, *measured, 1.0F, false);
    };
    return film;
}

} // namespace evenclose
