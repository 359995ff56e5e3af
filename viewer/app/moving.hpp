// viewer/app/moving.hpp: what moves by itself as time goes by: the camera in flight, the stroke that plays, the mold on its way in.
// Threads: the one that owns `app`.
#pragma once

#include "viewer/app/app.hpp"

namespace evenclose {

/// Playing at x1 takes this long from open to closed: slow enough to watch a gap close, whatever the press is.
inline constexpr double kPlayWhole_s = 8.0;
/// And rests this long at either end.
inline constexpr double kPlayRest_s = 0.8;

/// One step of the way in at x1; and so long it rests at its end.
inline constexpr double kLoadStep_s = 4.0;
inline constexpr double kLoadRest_s = 1.0;

/// From where the camera is.
void fly(App& app, const Camera& to);
/// Back to the press as it stands, and to where the camera was; nothing where no mold is on its way.
void end_loading(App& app);
/// All that moves goes on by `seconds`.   Needs: more than none.
void elapse(App& app, double seconds);

} // namespace evenclose
