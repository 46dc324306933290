// Makes every fsync and fdatasync take longer, as on a disk that confirms later than this machine's. How to use it: docs/performance.md.
#define _GNU_SOURCE
#include <dlfcn.h>
#include <stdlib.h>
#include <time.h>

static int after_a_while(int (*sync_file)(int), int fd)
{
    int result = sync_file(fd);
    const char *text = getenv("DISK_MICROSECONDS");
    long microseconds = text ? atol(text) : 0;
    struct timespec rest = { microseconds / 1000000, microseconds % 1000000 * 1000 };
    nanosleep(&rest, NULL);
    return result;
}

int fsync(int fd)
{
    return after_a_while((int (*)(int))dlsym(RTLD_NEXT, "fsync"), fd);
}

int fdatasync(int fd)
{
    return after_a_while((int (*)(int))dlsym(RTLD_NEXT, "fdatasync"), fd);
}
