#include "scene/mesh/formats/scene_formats.hpp"
#include "scene/mesh/formats/text_scan.hpp"

#include <fmt/format.h>
#include <unzip.h>

#include <array>
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace evenclose {
namespace {

struct CloseZip {
    void operator()(void* zip) const { unzClose(zip); }
};
using Zip = std::unique_ptr<void, CloseZip>;

bool ends_as_model(std::string_view name) {
    constexpr std::string_view ending = ".model";
    return name.size() > ending.size() && same_word(name.substr(name.size() - ending.size()), ending);
}

// A few kB of zip can unpack to any size. A model's text packs to a fifth to a fifteenth (tried on our own meshes, with and
// without structure), so what unpacks to a hundred times is no model.
constexpr std::uint64_t kMostTimesUnpacked = 100;
constexpr std::uint64_t kUnpackedAnyway = 16ULL << 20U;

/// minizip reads what is open already: it opens no file by a name.
struct ZipStream {
    const OpenFile& file;
    std::uint64_t at = 0;
};
ZipStream& stream_of(void* stream) { return *static_cast<ZipStream*>(stream); }
zlib_filefunc64_def zip_functions(ZipStream& stream) {
    zlib_filefunc64_def functions{};
    functions.opaque = &stream;
    functions.zopen64_file = [](void* opaque, const void* /*name*/, int /*mode*/) { return opaque; };
    functions.zread_file = [](void* /*opaque*/, void* it, void* into, uLong size) -> uLong {
        ZipStream& from = stream_of(it);
        const std::size_t got = from.file.read(from.at, static_cast<char*>(into), size);
        from.at += got;
        return got;
    };
    functions.ztell64_file = [](void* /*opaque*/, void* it) -> ZPOS64_T { return stream_of(it).at; };
    functions.zseek64_file = [](void* /*opaque*/, void* it, ZPOS64_T offset, int from) -> long {
        ZipStream& within = stream_of(it);
        const std::uint64_t base = from == ZLIB_FILEFUNC_SEEK_CUR   ? within.at
                                   : from == ZLIB_FILEFUNC_SEEK_END ? within.file.size()
                                                                    : 0;
        if (base + offset > within.file.size()) {
            return -1;
        }
        within.at = base + offset;
        return 0;
    };
    functions.zclose_file = [](void* /*opaque*/, void* /*it*/) { return 0; };
    functions.zerror_file = [](void* /*opaque*/, void* /*it*/) { return 0; };
    return functions;
}

/// Unpacks every part once, to see that it is whole: Assimp 5.2 ends the program on a part whose checksum is wrong.
std::optional<NotRead> refuse_damaged_parts(const Zip& zip, std::size_t file_size) {
    const std::uint64_t most = kUnpackedAnyway + kMostTimesUnpacked * file_size;
    std::uint64_t unpacked = 0;
    std::vector<char> piece(256 * 1024);
    int at = unzGoToFirstFile(zip.get());
    for (; at == UNZ_OK; at = unzGoToNextFile(zip.get())) {
        std::array<char, 512> name{};
        unz_file_info64 about{};
        if (unzGetCurrentFileInfo64(zip.get(), &about, name.data(), name.size() - 1, nullptr, 0, nullptr, 0) !=
                UNZ_OK ||
            unzOpenCurrentFile(zip.get()) != UNZ_OK) {
            return NotRead{fmt::format("is damaged: its part {} cannot be unpacked", shortened(name.data()))};
        }
        int got = 0;
        while ((got = unzReadCurrentFile(zip.get(), piece.data(), static_cast<unsigned>(piece.size()))) > 0) {
            unpacked += static_cast<std::uint64_t>(got);
            if (unpacked > most) {
                unzCloseCurrentFile(zip.get());
                return NotRead{fmt::format("unpacks to more than {} times its size, which no model does: it is made to "
                                           "fill memory, and was not unpacked further",
                                           kMostTimesUnpacked)};
            }
        }
        // The checksum is compared on closing.
        if (unzCloseCurrentFile(zip.get()) != UNZ_OK || got < 0) {
            return NotRead{fmt::format("is damaged: the checksum of its part {} is wrong", shortened(name.data()))};
        }
    }
    if (at != UNZ_END_OF_LIST_OF_FILE) {
        return NotRead{"is damaged: its zip directory cannot be read to the end"};
    }
    return {};
}

/// The beginning of the package's model part: of the root one ("3dmodel.model") if there are several.
std::string head_of_model(const Zip& zip) {
    std::string head;
    for (int at = unzGoToFirstFile(zip.get()); at == UNZ_OK; at = unzGoToNextFile(zip.get())) {
        std::array<char, 512> name{};
        unz_file_info64 about{};
        if (unzGetCurrentFileInfo64(zip.get(), &about, name.data(), name.size() - 1, nullptr, 0, nullptr, 0) !=
            UNZ_OK) {
            break;
        }
        const std::string_view path = name.data();
        const bool root = path.find("3dmodel.model") != path.npos;
        if (!ends_as_model(path) || (!root && !head.empty())) {
            continue;
        }
        if (unzOpenCurrentFile(zip.get()) != UNZ_OK) {
            continue;
        }
        constexpr unsigned kEnough = 64 * 1024; // the root element stands at the very beginning, after comments
        std::string text(kEnough, '\0');
        const int got = unzReadCurrentFile(zip.get(), text.data(), kEnough);
        unzCloseCurrentFile(zip.get());
        if (got > 0) {
            text.resize(static_cast<std::size_t>(got));
            head = std::move(text);
            if (root) {
                break;
            }
        }
    }
    return head;
}

/// The value of the attribute `unit` of the element <model>, in whichever namespace prefix; empty if there is none.
std::string_view unit_attribute(std::string_view xml) {
    std::size_t at = 0;
    while ((at = xml.find('<', at)) != xml.npos) {
        if (xml.substr(at).starts_with("<!--")) {
            at = xml.find("-->", at);
            continue;
        }
        std::string_view tag = xml.substr(at + 1, xml.substr(at).find('>'));
        std::string_view name = tag.substr(0, tag.find_first_of(" \t\r\n/>"));
        if (const std::size_t colon = name.find(':'); colon != name.npos) {
            name.remove_prefix(colon + 1);
        }
        if (name != "model") {
            ++at;
            continue;
        }
        for (std::size_t word = 0; (word = tag.find("unit", word)) != tag.npos; word += 4) {
            std::string_view rest = tag.substr(word + 4);
            const auto skip = [&rest] {
                const std::size_t n = rest.find_first_not_of(" \t\r\n");
                rest = n == rest.npos ? std::string_view{} : rest.substr(n);
            };
            skip();
            const bool stands_alone = word > 0 && static_cast<unsigned char>(tag[word - 1]) <= ' ';
            if (!stands_alone || !rest.starts_with('=')) {
                continue;
            }
            rest.remove_prefix(1);
            skip();
            if (rest.empty() || (rest[0] != '"' && rest[0] != '\'')) {
                continue;
            }
            const char quote = rest[0];
            rest.remove_prefix(1);
            return rest.substr(0, rest.find(quote));
        }
        return {};
    }
    return {};
}

} // namespace

std::variant<FileUnit, NotRead> unit_of_3mf(const OpenFile& file) {
    ZipStream stream{file};
    zlib_filefunc64_def functions = zip_functions(stream);
    const Zip zip(unzOpen2_64("package", &functions));
    if (zip == nullptr) {
        return NotRead{"is no whole 3MF package: its zip directory cannot be read (cut short?)"};
    }
    if (auto wrong = refuse_damaged_parts(zip, file.size())) {
        return *wrong;
    }
    const std::string xml = head_of_model(zip);
    if (xml.empty()) {
        return NotRead{"is a zip file, but no 3MF package: it holds no .model part"};
    }
    const std::string_view name = unit_attribute(xml);
    static const FileUnit units[] = {{0.001, "micron"}, {1, "millimeter"}, {10, "centimeter"},
                                     {25.4, "inch"},    {304.8, "foot"},   {1000, "meter"}};
    if (name.empty()) {
        return units[1];
    }
    for (const FileUnit& unit : units) {
        if (name == unit.name) {
            return unit;
        }
    }
    return NotRead{fmt::format("its unit {} is none that 3MF knows: micron, millimeter, centimeter, inch, foot, meter",
                               shortened(name))};
}

} // namespace evenclose
