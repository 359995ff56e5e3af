// viewer/cli/picture_words.hpp: what `picture` writes over what it draws: names, a scale bar, the forces.
#pragma once

#include "scene/motion/assembly.hpp"
#include "viewer/render/force_arrows.hpp"
#include "viewer/render/frame.hpp"
#include "viewer/render/overlay.hpp"

#include <vector>

namespace evenclose {

/// `points`: pixels a point, 1 on a plain screen.
/// Beside each arrow, what it brings.
void write_forces(Image& image, const Camera& camera, const std::vector<ForceArrow>& arrows, double points);

/// A bar that tells how long a length is, in the lower right corner. Gives where it stands; nothing where the camera has no
/// scale.
[[nodiscard]] PictureBox write_scale_bar(Image& image, const Camera& camera, double points);

/// The names of the bodies that can be seen, in two columns beside them, none over what is `taken`. Gives how many found no
/// room.
std::size_t write_names(Image& image, const Frame& frame, const Assembly& assembly,
                        const std::vector<PictureBox>& taken, double points);

} // namespace evenclose
