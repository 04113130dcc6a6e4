// OSC packets by the npm library osc-min, for osc_library_test.cpp.
//
// "packets.mjs write FILE": reads lines of JSON, packets as osc-min has them, and writes each one's bytes in hex.
// "packets.mjs read FILE": reads lines of hex, and writes each as "ADDRESS type value type value ...".
import { readFileSync } from "node:fs";
import { fromBuffer, toBuffer } from "osc-min";

const [way, file] = process.argv.slice(2);
for (const line of readFileSync(file, "utf8").trim().split("\n")) {
    if (way === "write") {
        const packet = JSON.parse(line);
        console.log(Buffer.from(toBuffer(packet).buffer).toString("hex"));
    } else {
        const message = fromBuffer(Buffer.from(line, "hex"));
        console.log([message.address, ...message.args.flatMap(({ type, value }) => [type, value])].join(" "));
    }
}
