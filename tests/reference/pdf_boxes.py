"""Prints the filled boxes of a PDF's first page, `left top right bottom` in points from the upper left corner:
what stands in its content stream, without any drawing program in between."""
import re
import sys
import zlib

data = open(sys.argv[1], "rb").read()
for stream in re.finditer(rb"stream\r?\n", data):
    try:
        content = zlib.decompressobj().decompress(data[stream.end():]).decode("latin-1")
    except zlib.error:
        continue
    if not content.startswith("1 0 0 -1 0 "):
        continue
    number = r"(-?[0-9.]+)"
    for box in re.finditer(rf"{number} {number} m {number} {number} l {number} {number} l", content):
        x, y = box.group(1), box.group(2)
        print(x, y, box.group(5), box.group(6))
    break
