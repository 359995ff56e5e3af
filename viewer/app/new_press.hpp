// viewer/app/new_press.hpp: a press, a block mold and a set-up from a few answers: a start that can be checked at once, every
// number of it edited afterwards.
//
// Two welded frames of steel tube, front and back, jacks on a plate between them; tubes as deep as bending asks, a beam
// fixed at both ends reckoned as half way to one on two supports (0.6 of F L / 4), at 90 MPa. Sizes of jacks, guides and
// plates: common practice, no source. Not covered: timber frames, scissors, hoses; they are edited in.
#pragma once

#include <filesystem>
#include <string>
#include <variant>
#include <vector>

namespace evenclose {

struct NewPressAnswers {
    enum class Jacks { screw, cylinder };
    std::string name = "New press";
    double between_posts_mm = 1160; // clear, along the deck
    double daylight_mm = 300;       // open, platen to head
    double platen_length_mm = 1060; // along the deck
    double platen_depth_mm = 320;   // front to back
    Jacks jacks = Jacks::screw;
    int jack_count = 2; // 2 or 4
    double jack_load_N = 30'000;
};

struct NewPressTexts {
    std::string press, mold, setup; // documents; the set-up names the others as press_name and mold_name
    std::string press_name, mold_name, setup_name;
};

/// What answers cannot be used together, a sentence each; empty if all is well.
[[nodiscard]] std::vector<std::string> faults_of(const NewPressAnswers& answers);
/// Needs: no faults. `stem`: what the files are called, less their endings.
[[nodiscard]] NewPressTexts new_press(const NewPressAnswers& answers, const std::string& stem);

/// Into `folder`, none of them over a file that is there. The set-up's path, or a sentence that says what is in the way.
[[nodiscard]] std::variant<std::filesystem::path, std::string>
write_new_press(const NewPressAnswers& answers, const std::filesystem::path& folder, const std::string& stem);

} // namespace evenclose
