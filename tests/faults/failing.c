/* Loaded before the C library: of everything that the process does to files below FAILING_UNDER, the operation number
 * FAILING_AT fails. FAILING_HOW says how: "io" an I/O error once; "full" no room from there on; "short" half of a write
 * is done and the next one finds no room. How many operations there were goes to the file FAILING_COUNT at the end. */
#define _GNU_SOURCE
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <stdarg.h>
#include <stdatomic.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/types.h>
#include <sys/uio.h>
#include <unistd.h>

static atomic_long seen;
static long at;
static char how;
static const char *under;

__attribute__((constructor)) static void begin(void) {
    const char *n = getenv("FAILING_AT"), *h = getenv("FAILING_HOW");
    at = n ? atol(n) : 0;
    how = h ? h[0] : 'i';
    under = getenv("FAILING_UNDER");
}

__attribute__((destructor)) static void end(void) {
    const char *to = getenv("FAILING_COUNT");
    FILE *out = to ? fopen(to, "a") : NULL;
    if (out) {
        fprintf(out, "%ld\n", atomic_load(&seen));
        fclose(out);
    }
}

static int below(const char *path) {
    return under && path && strncmp(path, under, strlen(under)) == 0;
}

static int fd_below(int fd) {
    char link[64], path[4096];
    snprintf(link, sizeof link, "/proc/self/fd/%d", fd);
    ssize_t n = readlink(link, path, sizeof path - 1);
    if (n < 0) return 0;
    path[n] = 0;
    return below(path);
}

enum { GO_ON, FAIL, HALF };

/* `takes_room`: a full disk refuses it. */
static int fate(int takes_room, int is_write) {
    long n = atomic_fetch_add(&seen, 1) + 1;
    if (at <= 0 || n < at) return GO_ON;
    if (how == 'f') {
        errno = ENOSPC;
        return takes_room ? FAIL : GO_ON;
    }
    if (how == 's' && is_write) {
        if (n == at) return HALF;
        errno = ENOSPC;
        return n == at + 1 ? FAIL : GO_ON;
    }
    errno = EIO;
    return n == at ? FAIL : GO_ON;
}

#define REAL(type, name, ...) \
    static type (*real)(__VA_ARGS__); \
    if (!real) real = (type (*)(__VA_ARGS__))dlsym(RTLD_NEXT, name)

ssize_t write(int fd, const void *buf, size_t n) {
    REAL(ssize_t, "write", int, const void *, size_t);
    if (fd_below(fd)) switch (fate(1, 1)) {
        case FAIL: return -1;
        case HALF: return real(fd, buf, n > 1 ? n / 2 : n);
    }
    return real(fd, buf, n);
}

ssize_t writev(int fd, const struct iovec *v, int n) {
    REAL(ssize_t, "writev", int, const struct iovec *, int);
    if (fd_below(fd) && fate(1, 0) == FAIL) return -1;
    return real(fd, v, n);
}

#define PWRITE(name) \
    ssize_t name(int fd, const void *buf, size_t n, off_t where) { \
        REAL(ssize_t, #name, int, const void *, size_t, off_t); \
        if (fd_below(fd)) switch (fate(1, 1)) { \
            case FAIL: return -1; \
            case HALF: return real(fd, buf, n > 1 ? n / 2 : n, where); \
        } \
        return real(fd, buf, n, where); \
    }
PWRITE(pwrite)
PWRITE(pwrite64)

#define OF_FD(name, room) \
    int name(int fd) { \
        REAL(int, #name, int); \
        if (fd_below(fd) && fate(room, 0) == FAIL) return -1; \
        return real(fd); \
    }
OF_FD(fsync, 0)
OF_FD(fdatasync, 0)

int sync_file_range(int fd, off64_t from, off64_t n, unsigned flags) {
    REAL(int, "sync_file_range", int, off64_t, off64_t, unsigned);
    if (fd_below(fd) && fate(0, 0) == FAIL) return -1;
    return real(fd, from, n, flags);
}

#define TRUNCATE(name) \
    int name(int fd, off_t len) { \
        REAL(int, #name, int, off_t); \
        if (fd_below(fd) && fate(0, 0) == FAIL) return -1; \
        return real(fd, len); \
    }
TRUNCATE(ftruncate)
TRUNCATE(ftruncate64)

ssize_t copy_file_range(int in, off64_t *a, int out, off64_t *b, size_t n, unsigned flags) {
    REAL(ssize_t, "copy_file_range", int, off64_t *, int, off64_t *, size_t, unsigned);
    if (fd_below(out) && fate(1, 0) == FAIL) return -1;
    return real(in, a, out, b, n, flags);
}

int rename(const char *from, const char *to) {
    REAL(int, "rename", const char *, const char *);
    if (below(to) && fate(1, 0) == FAIL) return -1;
    return real(from, to);
}

int unlink(const char *path) {
    REAL(int, "unlink", const char *);
    if (below(path) && fate(0, 0) == FAIL) return -1;
    return real(path);
}

int mkdir(const char *path, mode_t mode) {
    REAL(int, "mkdir", const char *, mode_t);
    if (below(path) && fate(1, 0) == FAIL) return -1;
    return real(path, mode);
}

/* Reading is an operation too; only what makes a file needs room. */
#define OPEN(name) \
    int name(const char *path, int flags, ...) { \
        REAL(int, #name, const char *, int, ...); \
        va_list more; \
        va_start(more, flags); \
        mode_t mode = va_arg(more, mode_t); \
        va_end(more); \
        if (below(path) && fate((flags & O_CREAT) != 0, 0) == FAIL) return -1; \
        return real(path, flags, mode); \
    }
OPEN(open)
OPEN(open64)

int openat64(int dir, const char *path, int flags, ...) {
    REAL(int, "openat64", int, const char *, int, ...);
    va_list more;
    va_start(more, flags);
    mode_t mode = va_arg(more, mode_t);
    va_end(more);
    if (below(path) && fate((flags & O_CREAT) != 0, 0) == FAIL) return -1;
    return real(dir, path, flags, mode);
}
