// Light: a soft key over the viewer's left shoulder, a weak fill from the right, and what the sky above and the floor
// below send back (a hemisphere). The key goes with the viewer, so that no view of the press lies in the dark.
in vec3 eye_position;
in vec3 eye_normal;
in vec4 surface_tint;

uniform vec3 colour;      // linear
uniform float alpha;
uniform vec3 up;          // world's up in the eye's frame
uniform float parallel;   // 1: all sight lines run along -z
uniform vec3 hatch;       // linear; stripes over the colour
uniform float hatch_pitch_px; // along x; 0: none
uniform float hatch_share;    // of the surface that the stripes take
uniform float hatch_slant;    // 1 or -1: which way they lean

out vec4 shown;

const vec3 key_direction = normalize(vec3(-0.45, 0.62, 0.64));
const vec3 fill_direction = normalize(vec3(0.75, -0.05, 0.45));

void main() {
    vec3 n = normalize(eye_normal);
    vec3 to_eye = mix(normalize(-eye_position), vec3(0.0, 0.0, 1.0), parallel);
    if (dot(n, to_eye) < 0.0 && !gl_FrontFacing) {
        n = -n; // the inside of an open or inside-out mesh
    }
    float wrapped = max(0.0, (dot(n, key_direction) + 0.25) / 1.25);
    float sky = 0.5 + 0.5 * dot(n, up);
    vec3 light = wrapped * 0.62 * vec3(1.0, 0.985, 0.96)
               + max(0.0, dot(n, fill_direction)) * 0.16 * vec3(0.94, 0.97, 1.0)
               + mix(vec3(0.20, 0.19, 0.18), vec3(0.44, 0.46, 0.48), sky);

    vec3 base = colour * (1.0 - surface_tint.a) + surface_tint.rgb;
    if (hatch_pitch_px > 0.0) {
        // Stripes at 45 degrees. Lit more evenly: they must be told in any shade.
        float across =
            abs(fract((gl_FragCoord.x + hatch_slant * gl_FragCoord.y) / hatch_pitch_px) - 0.5) * hatch_pitch_px;
        base = mix(base, hatch, clamp(across - 0.5 * (1.0 - hatch_share) * hatch_pitch_px + 0.5, 0.0, 1.0));
        light = mix(light, vec3(1.0), 0.55);
    }
    // Surfaces that turn away darken a little, so that round bars keep a drawn outline.
    float turned = 1.0 - abs(dot(n, to_eye));
    float rim = 1.0 - 0.45 * turned * turned * turned * turned;
    shown = vec4(sqrt(clamp(base * light * rim, 0.0, 1.0)), alpha);
}
