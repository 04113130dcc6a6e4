// Chromaticities by the npm library colorjs.io, for colour_library_test.cpp.
//
// Reads lines "srgb R G B" (each 0..1), "hsv DEGREES SATURATION VALUE" (both of these in percent) or "xyz X Y Z";
// writes "x y u' v'" for each.
import { readFileSync } from "node:fs";
import Color from "colorjs.io";

const spaces = { srgb: "srgb", hsv: "hsv", xyz: "xyz-d65" };
for (const line of readFileSync(process.argv[2], "utf8").trim().split("\n")) {
    const [space, ...parts] = line.split(" ");
    const colour = new Color(spaces[space], parts.map(Number));
    console.log(...colour.xy, ...colour.uv);
}
