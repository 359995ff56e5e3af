// viewer/ui/state_file.hpp: tells tests what the window shows, as JSON in the file that EVENCLOSE_STATE names.
//
// Written as a new file, then renamed, whenever it changed and the frame is on the screen. DEVELOPERS.md lists its keys.
#pragma once

#include "viewer/app/app.hpp"
#include "viewer/ui/places.hpp"

#include <cstdint>
#include <string>

namespace evenclose {

struct WindowCounts {
    std::uint64_t frames = 0, pictures = 0; // drawn since the window opened
    int contexts = 1;                       // of OpenGL, with those that were lost
    double longest_gap_ms = 0;              // the window did not listen for so long, at worst
    double longest_gap_checking_ms = 0;     // the same, while a job ran
    float width = 0, height = 0, scale = 1;
    std::string gl_fault; // the first thing OpenGL complained about; looked for only where a state file is written
    bool settled = false; // nothing more will be drawn without input or news
};

/// Everything but the counts decides whether it changed.
[[nodiscard]] std::string state_json(const App& app, const Places& places, const WindowCounts& counts);

class StateFile {
public:
    /// From the environment; without the variable nothing is ever written.
    StateFile();
    [[nodiscard]] bool wanted() const { return !file_.empty(); }
    void write_if_changed(const App& app, const Places& places, const WindowCounts& counts);

private:
    std::string file_, written_;
    std::uint64_t serial_ = 0;
};

} // namespace evenclose
