#include "tests/viewer/window/screen.hpp"

#include <stb_image.h>

#include <chrono>
#include <cstdlib>
#include <fstream>
#include <stdexcept>
#include <thread>

namespace evenclose::test {

namespace fs = std::filesystem;

TestFolder::TestFolder() {
    std::string pattern = (fs::temp_directory_path() / "evenclose-window-XXXXXX").string();
    if (mkdtemp(pattern.data()) == nullptr) {
        throw std::runtime_error("no folder for the test can be made at " + pattern);
    }
    path_ = pattern;
}

TestFolder::~TestFolder() {
    std::error_code ignored;
    fs::remove_all(path_, ignored);
}

Screen::Screen(int width, int height) {
    // The server chooses a free display by itself and writes its number once it takes connections.
    const fs::path number = folder_.path() / "display";
    const std::string size = std::to_string(width) + "x" + std::to_string(height) + "x24";
    server_ = std::make_unique<ChildProcess>(ChildProcess::Start{
        {"sh", "-c",
         "exec Xvfb -displayfd 6 -screen 0 " + size + " -nolisten tcp -noreset 6>'" + number.string() + "'"},
        {},
        {}});
    for (int i = 0; i < 2000 && server_->running(); ++i) {
        std::ifstream in(number);
        std::string told;
        if (std::getline(in, told) && !told.empty() && !in.eof()) {
            display_ = ":" + told;
            return;
        }
        std::this_thread::sleep_for(std::chrono::milliseconds(10));
    }
    throw std::runtime_error("Xvfb does not start; sh third_party/install.sh tests installs it");
}

void Screen::xdotool(std::vector<std::string> words) const {
    words.insert(words.begin(), "xdotool");
    run_to_end({std::move(words), {{"DISPLAY", display_}}, {}});
}

void Screen::move_mouse(double x, double y) const {
    xdotool({"mousemove", std::to_string(static_cast<int>(x)), std::to_string(static_cast<int>(y))});
}
void Screen::press_button(int button) const { xdotool({"mousedown", std::to_string(button)}); }
void Screen::release_button(int button) const { xdotool({"mouseup", std::to_string(button)}); }
void Screen::click(double x, double y, int button) const {
    move_mouse(x, y);
    xdotool({"click", std::to_string(button)});
}
void Screen::key(const std::string& name) const { xdotool({"key", name}); }
void Screen::type(const std::string& text) const { xdotool({"type", "--delay", "15", text}); }

void Screen::script(const std::vector<std::string>& lines) const {
    const fs::path file = folder_.path() / "script.txt";
    {
        std::ofstream out(file);
        for (const std::string& line : lines) {
            out << line << '\n';
        }
    }
    xdotool({file.string()});
}

Image Screen::picture() const {
    const std::string file = (folder_.path() / "screen.png").string();
    run_to_end({{"import", "-window", "root", file}, {{"DISPLAY", display_}}, {}});
    Image image;
    int channels = 0;
    unsigned char* pixels = stbi_load(file.c_str(), &image.width, &image.height, &channels, 4);
    if (pixels == nullptr) {
        throw std::runtime_error("no picture of the screen");
    }
    image.rgba.assign(pixels, pixels + static_cast<std::size_t>(image.width) * image.height * 4);
    stbi_image_free(pixels);
    if (const char* keep = std::getenv("EVENCLOSE_KEEP_PICTURES")) { // to look at them
        static int count = 0;
        fs::copy_file(file, fs::path(keep) / ("screen-" + std::to_string(++count) + ".png"),
                      fs::copy_options::overwrite_existing);
    }
    return image;
}

} // namespace evenclose::test
