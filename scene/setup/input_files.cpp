#include "scene/setup/input_files.hpp"

#include <sys/types.h>

#include <sha2.h>

#include <algorithm>
#include <array>
#include <system_error>
#include <variant>

namespace evenclose {
namespace {

namespace fs = std::filesystem;

class Files {
public:
    void add(const std::string& what, const fs::path& file) {
        std::error_code error;
        const fs::path same = fs::weakly_canonical(file, error);
        const fs::path& key = error ? file : same;
        if (file.empty() || std::find(known_.begin(), known_.end(), key) != known_.end()) {
            return;
        }
        known_.push_back(key);
        InputFile input{what, file, 0, {}};
        const std::uintmax_t bytes = fs::file_size(file, error);
        input.bytes = error ? 0 : bytes;
        std::array<char, SHA256_DIGEST_STRING_LENGTH> digest{};
        if (SHA256File(file.c_str(), digest.data()) != nullptr) {
            input.sha256 = digest.data();
        }
        files_.push_back(std::move(input));
    }
    /// A file that a document names, relative to it.
    void add(const std::string& what, const std::string& document, const std::string& written) {
        if (!written.empty()) {
            add(what, fs::path(document).parent_path() / written);
        }
    }
    [[nodiscard]] std::vector<InputFile> take() { return std::move(files_); }

private:
    std::vector<InputFile> files_;
    std::vector<fs::path> known_;
};

} // namespace

std::vector<InputFile> input_files(const Setup& setup) {
    Files files;
    files.add("set-up", setup.file);
    if (setup.press) {
        const Press& press = *setup.press;
        files.add("press", press.file);
        for (const Member& member : press.members) {
            if (const auto* mesh = std::get_if<MeshSection>(&member.section)) {
                files.add("member " + member.name, press.file, mesh->file);
            }
        }
        files.add("head", press.file, press.head.mesh_file);
        files.add("platen", press.file, press.platen.mesh_file);
        if (press.measured_heights) {
            files.add("measured heights", press.file, press.measured_heights->file);
        }
    }
    for (const Opening& opening : setup.openings) {
        if (!opening.mold) {
            continue;
        }
        const Mold& mold = *opening.mold;
        files.add("mold", mold.file);
        files.add("deck outline", mold.file, mold.deck_outline_file);
        const auto add_half = [&](const char* what, const MoldHalf& half) {
            if (const auto* mesh = std::get_if<MeshHalf>(&half.shape)) {
                files.add(what, mold.file, mesh->file);
            }
        };
        add_half("lower half", mold.lower);
        add_half("upper half", mold.upper);
    }
    return files.take();
}

} // namespace evenclose
