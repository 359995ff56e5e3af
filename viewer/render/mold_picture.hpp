// viewer/render/mold_picture.hpp: a mold by itself, its halves drawn apart a little so that both forming faces show.
#pragma once

#include "scene/mold/mold.hpp"
#include "viewer/render/frame.hpp"
#include "viewer/render/palette.hpp"

namespace evenclose {

/// As it is in the press when closed: along the deck, across it, from seat to seat. Of what is finite.
/// Needs: a mold with its meshes loaded.
[[nodiscard]] Vec3 mold_size_mm(const Mold& mold);

/// Seen as the press is in its corner view. A picture of nothing where neither half has a finite corner.
/// Needs: a mold with its meshes loaded; aspect > 0.
[[nodiscard]] Frame mold_picture(const Mold& mold, const Palette& palette, double aspect);

} // namespace evenclose
