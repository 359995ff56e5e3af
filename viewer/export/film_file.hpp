// viewer/export/film_file.hpp: a row of pictures written as numbered PNG files or as one moving file.
#pragma once

#include "checks/progress.hpp"
#include "scene/units/units.hpp"
#include "viewer/render/frame.hpp"

#include <cstddef>
#include <functional>
#include <string>

namespace evenclose {

/// "press.webp": one moving file. "frames/press-%03d.png": pictures 001, 002 and so on; the folder is made.
struct FilmName {
    std::string text;
    bool moving = true;
    std::size_t at = 0, length = 0; // of the number's mark in the text
    int digits = 0;
};
/// The reason says what would do.
[[nodiscard]] Read<FilmName> read_film_name(const std::string& text);
/// The name of the picture `number`, counted from 1. Needs: a name of pictures.
[[nodiscard]] std::string numbered(const FilmName& name, std::size_t number);

struct Film {
    std::size_t pictures = 0;
    int width = 1280, height = 800;
    std::function<Frame(std::size_t)> frame_at;      // 0 to pictures - 1; called on another thread
    std::function<void(std::size_t, Image&)> finish; // draws over a picture; may be empty
    std::function<int(std::size_t)> shown_ms;        // how long each is shown
};

/// Draws and writes it; nothing is left of one that was cancelled. Moving files are written as a new file, then renamed.
/// Gives whether it was written. Faults: std::runtime_error with the file or the driver's reason.
[[nodiscard]] bool save_film(const Film& film, const FilmName& name, Progress& progress);

/// A steady pace, the first and the last picture shown longer when `rests`.
[[nodiscard]] std::function<int(std::size_t)> steady(std::size_t pictures, double a_second, bool rests);

} // namespace evenclose
