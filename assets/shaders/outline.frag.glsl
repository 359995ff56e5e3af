// Outlines round the chosen bodies, blended over the finished picture. The mask tells which chosen body covers a pixel,
// hidden or not: r and g lit ones by turns, b and a fouling ones by turns.
in vec2 unit;
uniform sampler2D mask;
uniform vec2 used;        // part of the texture that holds the picture
uniform vec2 texel;
uniform vec2 steps[16];    // round the pixel, in parts of the texture: 12 at the outline's width, 4 half way
uniform vec4 lit_outline;
uniform vec4 foul_outline;
out vec4 shown;

void main() {
    vec2 at = unit * used;
    vec4 here = texture(mask, at);
    vec4 near = here;
    for (int i = 0; i < 16; ++i) {
        near = max(near, texture(mask, clamp(at + steps[i], 0.5 * texel, used - 0.5 * texel)));
    }
    vec4 rim = near * (1.0 - here);
    float lit = lit_outline.a * max(rim.r, rim.g);
    float foul = foul_outline.a * max(rim.b, rim.a);
    shown = vec4(mix(lit_outline.rgb, foul_outline.rgb, foul / max(lit + foul, 1e-4)), max(lit, foul));
}
