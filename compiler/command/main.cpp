// tallow: the compiler's command line.
int main() { return 0; }
