#include "viewer/app/moving.hpp"

#include <algorithm>

namespace evenclose {
namespace {

/// Step after step slides in, rests in its place, and the next one follows.
void load_on(App& app, double seconds) {
    LoadingIn& loading = *app.loading_in;
    if (loading.rest_s > 0) {
        loading.rest_s -= seconds;
        if (loading.rest_s > 0) {
            return;
        }
        if (loading.step + 1 >= loading.path->steps.size()) {
            end_loading(app);
            return;
        }
        ++loading.step;
        loading.gone_mm = 0;
        return;
    }
    loading.gone_mm += seconds * app.playing.times * loading.path->distance_mm / kLoadStep_s;
    if (loading.gone_mm >= loading.path->distance_mm) {
        loading.gone_mm = loading.path->distance_mm;
        loading.rest_s = kLoadRest_s;
    }
}

/// As the platen goes up, rests, comes down, rests.
void play_on(App& app, double seconds) {
    const double last = app.last().mm;
    if (last <= 0.0) {
        app.playing.on = false;
        return;
    }
    const double rested = std::min(app.playing.rest_s, seconds);
    app.playing.rest_s -= rested;
    double to = app.travel.mm + app.playing.turn * (seconds - rested) * app.playing.times * last / kPlayWhole_s;
    const bool closing = app.playing.turn > 0.0;
    if (closing ? to >= last : to <= 0.0) {
        to = closing ? last : 0.0;
        app.playing.turn = closing ? -1.0 : 1.0;
        app.playing.rest_s = kPlayRest_s;
    }
    app.travel.mm = to;
}

} // namespace

void fly(App& app, const Camera& to) { app.flight = Flight{app.camera, to}; }

void end_loading(App& app) {
    if (app.loading_in) {
        fly(app, app.loading_in->before);
        app.loading_in.reset();
    }
}

void elapse(App& app, double seconds) {
    if (app.flight) {
        app.flight->elapsed_s += seconds;
        app.camera = camera_on(*app.flight);
        if (app.flight->over()) {
            app.flight.reset();
        }
    }
    if (app.plays()) {
        app.loading_in ? load_on(app, seconds) : play_on(app, seconds);
    }
}

} // namespace evenclose
