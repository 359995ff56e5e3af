// The finished picture into the caller's framebuffer, with outlines round the chosen bodies. The mask tells which
// chosen body covers a pixel, hidden or not: r and g lit ones by turns, b and a fouling ones by turns.
in vec2 unit;
uniform sampler2D picture;
uniform sampler2D mask;
uniform vec2 used;        // part of the textures that holds the picture
uniform vec2 texel;
uniform float outline_px; // 0: no mask
uniform vec4 lit_outline;
uniform vec4 foul_outline;
out vec4 shown;

void main() {
    vec2 at = unit * used;
    vec3 tone = texture(picture, at).rgb;
    if (outline_px > 0.0) {
        vec4 here = texture(mask, at);
        vec4 near = here;
        for (int i = 0; i < 16; ++i) {
            float angle = 6.2831853 * (float(i) + 0.5) / 16.0;
            vec2 step_px = vec2(cos(angle), sin(angle));
            vec2 outer = clamp(at + step_px * outline_px * texel, 0.5 * texel, used - 0.5 * texel);
            vec2 inner = clamp(at + step_px * 0.5 * outline_px * texel, 0.5 * texel, used - 0.5 * texel);
            near = max(near, max(texture(mask, outer), texture(mask, inner)));
        }
        vec4 rim = near * (1.0 - here);
        tone = mix(tone, lit_outline.rgb, lit_outline.a * max(rim.r, rim.g));
        tone = mix(tone, foul_outline.rgb, foul_outline.a * max(rim.b, rim.a));
    }
    shown = vec4(tone, 1.0);
}
