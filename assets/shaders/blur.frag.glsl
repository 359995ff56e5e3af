// One direction of a separable Gauss blur; r with a narrow bell, g with a wide one.
in vec2 unit;
uniform sampler2D source;
uniform vec2 along; // one texel
out vec4 shown;
void main() {
    vec2 sum = vec2(0.0);
    vec2 weights = vec2(0.0);
    for (int i = -18; i <= 18; ++i) {
        vec2 weight = vec2(exp(-0.5 * float(i * i) / 2.2), exp(-0.5 * float(i * i) / 49.0));
        sum += weight * texture(source, unit + float(i) * along).rg;
        weights += weight;
    }
    shown = vec4(sum / weights, 0.0, 1.0);
}
