#include "viewer/export/animated_webp.hpp"

#include <fmt/format.h>
#include <webp/encode.h>
#include <webp/mux.h>

#include <stdexcept>

namespace evenclose {
namespace {

// Of 100: edges stay crisp, a film of 36 pictures of 1600 x 1000 stays below 3 MB.
constexpr float kQuality = 84;
// Of 0 to 6: packed more tightly, and slower.
constexpr int kEffort = 3;

} // namespace

struct AnimatedWebp::Inner {
    WebPAnimEncoder* encoder = nullptr;
    WebPConfig config{};
    int width = 0, height = 0, time_ms = 0;

    void need(int done) const {
        if (done == 0) {
            throw std::runtime_error(fmt::format("the film cannot be packed: {}", WebPAnimEncoderGetError(encoder)));
        }
    }
};

AnimatedWebp::AnimatedWebp(int width, int height) : inner_(std::make_unique<Inner>()) {
    inner_->width = width;
    inner_->height = height;
    if (width < 1 || height < 1 || width > WEBP_MAX_DIMENSION || height > WEBP_MAX_DIMENSION) {
        throw std::runtime_error(
            fmt::format("a WebP film is at most {0} x {0} pixels, not {1} x {2}", WEBP_MAX_DIMENSION, width, height));
    }
    WebPAnimEncoderOptions options;
    if (WebPAnimEncoderOptionsInit(&options) == 0 || WebPConfigInit(&inner_->config) == 0) {
        throw std::runtime_error("the installed libwebp is of another version than the program was built with");
    }
    options.anim_params.loop_count = 0; // for ever
    inner_->config.quality = kQuality;
    inner_->config.method = kEffort;
    inner_->encoder = WebPAnimEncoderNew(width, height, &options);
    if (inner_->encoder == nullptr) {
        throw std::runtime_error("no memory for a film of that size");
    }
}
AnimatedWebp::~AnimatedWebp() { WebPAnimEncoderDelete(inner_->encoder); }

void AnimatedWebp::add(const Image& image, int shown_ms) {
    if (image.width != inner_->width || image.height != inner_->height || shown_ms <= 0) {
        throw std::invalid_argument("a film's pictures are of one size and are shown for some time");
    }
    WebPPicture picture;
    if (WebPPictureInit(&picture) == 0) {
        throw std::runtime_error("the installed libwebp is of another version than the program was built with");
    }
    picture.use_argb = 1;
    picture.width = image.width;
    picture.height = image.height;
    const bool taken = WebPPictureImportRGBX(&picture, image.rgba.data(), 4 * image.width) != 0;
    const int added = taken ? WebPAnimEncoderAdd(inner_->encoder, &picture, inner_->time_ms, &inner_->config) : 0;
    WebPPictureFree(&picture);
    if (!taken) {
        throw std::runtime_error("no memory for a picture of the film");
    }
    inner_->need(added);
    inner_->time_ms += shown_ms;
}

std::string AnimatedWebp::bytes() {
    inner_->need(WebPAnimEncoderAdd(inner_->encoder, nullptr, inner_->time_ms, nullptr)); // ends the last picture
    WebPData data;
    WebPDataInit(&data);
    const int done = WebPAnimEncoderAssemble(inner_->encoder, &data);
    std::string bytes(reinterpret_cast<const char*>(data.bytes), data.size);
    WebPDataClear(&data);
    inner_->need(done);
    return bytes;
}

} // namespace evenclose
