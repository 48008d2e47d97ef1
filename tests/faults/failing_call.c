/* Preloaded: lets the call of one function fail whose number the environment names, as on a disk that
   is full or broken. FAILING_CALL="write 3" is the third call of write() to a regular file. */
#define _GNU_SOURCE
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static int fails(const char *name) {
    static int calls;
    const char *wanted = getenv("FAILING_CALL");
    const size_t length = strlen(name);
    if (!wanted || strncmp(wanted, name, length) != 0 || wanted[length] != ' ') return 0;
    if (__atomic_add_fetch(&calls, 1, __ATOMIC_SEQ_CST) != atoi(wanted + length)) return 0;
    fputs("FAILED\n", stderr); /* the libc's own, which calls none of these */
    return 1;
}

#define REAL(name) dlsym(RTLD_NEXT, name)

ssize_t write(int file, const void *bytes, size_t size) {
    struct stat about;
    if (fstat(file, &about) == 0 && S_ISREG(about.st_mode) && fails("write")) {
        errno = ENOSPC;
        return -1;
    }
    return ((ssize_t(*)(int, const void *, size_t))REAL("write"))(file, bytes, size);
}

int fsync(int file) {
    if (fails("fsync")) return errno = EIO, -1;
    return ((int (*)(int))REAL("fsync"))(file);
}

int rename(const char *from, const char *to) {
    if (fails("rename")) return errno = EIO, -1;
    return ((int (*)(const char *, const char *))REAL("rename"))(from, to);
}

char *mkdtemp(char *name) {
    if (fails("mkdtemp")) return errno = ENOSPC, NULL;
    return ((char *(*)(char *))REAL("mkdtemp"))(name);
}

static int opened(const char *function, const char *path, int flags, mode_t mode) {
    if ((flags & O_CREAT) && fails("open")) return errno = EDQUOT, -1;
    return ((int (*)(const char *, int, ...))REAL(function))(path, flags, mode);
}

int open(const char *path, int flags, ...) {
    va_list more;
    va_start(more, flags);
    const mode_t mode = flags & O_CREAT ? va_arg(more, mode_t) : 0;
    va_end(more);
    return opened("open", path, flags, mode);
}

int open64(const char *path, int flags, ...) {
    va_list more;
    va_start(more, flags);
    const mode_t mode = flags & O_CREAT ? va_arg(more, mode_t) : 0;
    va_end(more);
    return opened("open64", path, flags, mode);
}
