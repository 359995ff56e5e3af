#include "viewer/export/film_file.hpp"

#include "viewer/export/animated_webp.hpp"
#include "viewer/render/renderer.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cerrno>
#include <cmath>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <memory>
#include <optional>
#include <stdexcept>
#include <vector>

namespace evenclose {
namespace {

namespace fs = std::filesystem;

constexpr const char* kNames = "name one moving file, such as turn.webp, or numbered pictures, such as turn-%03d.png";
constexpr int kRest_ms = 1000; // open and closed want to be looked at

void make_folder_of(const std::string& file) {
    const fs::path folder = fs::path(file).parent_path();
    std::error_code fault;
    if (!folder.empty() && !fs::is_directory(folder, fault)) {
        fs::create_directories(folder, fault);
        if (fault) {
            throw std::runtime_error(
                fmt::format("{}: the folder cannot be made: {}", folder.string(), fault.message()));
        }
    }
}

void write_whole(const std::string& bytes, const std::string& file) {
    const std::string fresh = file + ".new";
    {
        std::ofstream out(fresh, std::ios::binary);
        out.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
        out.close();
        if (!out) {
            const std::string why = std::strerror(errno);
            std::error_code ignored;
            fs::remove(fresh, ignored);
            throw std::runtime_error(fmt::format("{}: cannot be written: {}", file, why));
        }
    }
    std::error_code fault;
    fs::rename(fresh, file, fault);
    if (fault) {
        std::error_code ignored;
        fs::remove(fresh, ignored);
        throw std::runtime_error(fmt::format("{}: cannot be written: {}", file, fault.message()));
    }
}

bool ends_with(const std::string& text, std::string_view end) {
    return text.size() > end.size() && std::equal(end.rbegin(), end.rend(), text.rbegin(), [](char a, char b) {
               return std::tolower(static_cast<unsigned char>(a)) == std::tolower(static_cast<unsigned char>(b));
           });
}

} // namespace

Read<FilmName> read_film_name(const std::string& text) {
    FilmName name;
    name.text = text;
    const std::size_t mark = text.find('%');
    const bool numbers = mark != std::string::npos;
    if (ends_with(text, ".webp") && !numbers) {
        return name;
    }
    if (!ends_with(text, ".png")) {
        return Unreadable{fmt::format("\"{}\" is no film: {}", text, kNames)};
    }
    if (!numbers) {
        return Unreadable{fmt::format("\"{}\" is one picture, a film has many: {}", text, kNames)};
    }
    // %d, %3d or %03d, once.
    name.moving = false;
    name.at = mark;
    std::size_t end = mark + 1;
    while (end < text.size() && std::isdigit(static_cast<unsigned char>(text[end])) != 0) {
        ++end;
    }
    const std::string digits = text.substr(mark + 1, end - mark - 1);
    if (end >= text.size() || text[end] != 'd' || digits.size() > 2 || text.find('%', mark + 1) != std::string::npos ||
        text.find('/', mark) != std::string::npos) {
        return Unreadable{
            fmt::format("\"{}\": the number's place is %d or %03d, once, in the file's name: {}", text, kNames)};
    }
    name.digits = digits.empty() ? 1 : std::clamp(std::stoi(digits), 1, 9);
    name.length = end + 1 - mark;
    return name;
}

std::string numbered(const FilmName& name, std::size_t number) {
    return name.text.substr(0, name.at) + fmt::format("{:0{}}", number, name.digits) +
           name.text.substr(name.at + name.length);
}

bool save_film(const Film& film, const FilmName& name, Progress& progress) {
    make_folder_of(name.text);
    std::unique_ptr<AnimatedWebp> moving;
    if (name.moving) {
        moving = std::make_unique<AnimatedWebp>(film.width, film.height);
    }
    std::vector<std::string> written;
    const auto take_back = [&] {
        for (const std::string& file : written) {
            std::error_code ignored;
            fs::remove(file, ignored);
        }
    };
    try {
        draw_offscreen(film.pictures, film.frame_at, film.width, film.height, [&](std::size_t i, Image image) {
            if (progress.cancelled()) {
                return false;
            }
            if (film.finish) {
                film.finish(i, image);
            }
            if (moving) {
                moving->add(image, film.shown_ms(i));
            } else {
                written.push_back(numbered(name, i + 1));
                write_png(image, written.back());
            }
            progress.tell(static_cast<double>(i + 1) / static_cast<double>(film.pictures));
            return true;
        });
        if (progress.cancelled()) {
            take_back();
            return false;
        }
        if (moving) {
            write_whole(moving->bytes(), name.text);
        }
    } catch (...) {
        take_back();
        throw;
    }
    return true;
}

std::function<int(std::size_t)> steady(std::size_t pictures, double a_second, bool rests) {
    const int each = std::max(1, static_cast<int>(std::lround(1000.0 / a_second)));
    return [pictures, each, rests](std::size_t i) {
        return rests && (i == 0 || i + 1 == pictures) ? std::max(each, kRest_ms) : each;
    };
}

} // namespace evenclose
