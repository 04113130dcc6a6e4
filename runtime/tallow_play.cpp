// tallow-play: plays a roll or a frames file.
int main() { return 0; }
