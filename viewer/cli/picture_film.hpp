// viewer/cli/picture_film.hpp: `picture` as many pictures: once round the press, or over its stroke.
#pragma once

#include "scene/motion/assembly.hpp"
#include "viewer/cli/commands.hpp"
#include "viewer/render/frame_of.hpp"

#include <functional>
#include <iosfwd>
#include <string>

namespace evenclose {

struct FilmOfPress {
    const Assembly& assembly;
    FrameRequest request; // of the picture that it starts from
    std::function<Frame(const FrameRequest&)> frame_for;
    std::function<void(const Frame&, Image&)> finish; // what is written over each
    bool close = false;                               // of the mold: turned where it is, not fitted to the whole press
};

/// `what`: the words for what is shown. Faults: std::runtime_error. Gives the exit code.
int run_film(const PictureCommand& command, const FilmOfPress& film, const std::string& what, std::ostream& out,
             std::ostream& err);

} // namespace evenclose
