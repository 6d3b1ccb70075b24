/* Loaded before the C library: of everything that the process does to files below FAILING_UNDER, the operation number
 * FAILING_AT fails. FAILING_HOW says how: "io" an I/O error once; "late" the same after a third of a second,
 * when somebody surely waits for it; "full" no room from there on; "short" half of a write is done and the next one finds no
 * room. How many operations there were goes to the file FAILING_COUNT at the end.
 *
 * With FAILING_RECORD=FILE nothing fails: what is done is written there in its order, together with what the process says
 * on standard output. Each entry is a line "KIND INODE OFFSET PATH-LENGTH SECOND-PATH-LENGTH DATA-LENGTH" and then the two
 * paths and the data: w write, t length (in OFFSET), s file flushed, f folder flushed, c file made, k folder made, r renamed,
 * u file removed, x folder removed, o said. */
#define _GNU_SOURCE
#include <dirent.h>
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <pthread.h>
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
static FILE *record;
/* An operation and its entry are one: a flush must not seem to cover what came while it ran. */
static pthread_mutex_t turn = PTHREAD_RECURSIVE_MUTEX_INITIALIZER_NP;

__attribute__((constructor)) static void begin(void) {
    const char *to = getenv("FAILING_RECORD");
    record = to ? fopen(to, "w") : NULL;
    const char *n = getenv("FAILING_AT"), *h = getenv("FAILING_HOW");
    at = n ? atol(n) : 0;
    how = h ? h[0] : 'i';
    under = getenv("FAILING_UNDER");
}

__attribute__((destructor)) static void end(void) {
    if (record) fflush(record);
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

static int path_of(int fd, char path[PATH_MAX]) {
    char link[64];
    snprintf(link, sizeof link, "/proc/self/fd/%d", fd);
    ssize_t n = readlink(link, path, PATH_MAX - 1);
    if (n < 0) return 0;
    path[n] = 0;
    return 1;
}

static int fd_below(int fd) {
    char path[PATH_MAX];
    return path_of(fd, path) && below(path);
}

static void note(char kind, int fd, off_t where, const char *path, const char *other, const void *data, size_t n) {
    struct stat of = {0};
    if (fd >= 0) fstat(fd, &of);
    else if (path) lstat(path, &of);
    size_t first = path ? strlen(path) : 0, second = other ? strlen(other) : 0;
    fprintf(record, "%c %lu %lld %zu %zu %zu\n", kind, (unsigned long)of.st_ino, (long long)where, first, second, n);
    if (first) fwrite(path, 1, first, record);
    if (second) fwrite(other, 1, second, record);
    if (n) fwrite(data, 1, n, record);
    fflush(record);
}

/* Does CALL, and where something is recorded and it succeeds, notes it. */
#define NOTED(type, call, entry) ({ \
    if (record) pthread_mutex_lock(&turn); \
    type done = (call); \
    int error = errno; \
    if (record) { \
        if (done >= 0) { entry; } \
        pthread_mutex_unlock(&turn); \
    } \
    errno = error; \
    done; \
})

static off_t place(int fd) {
    struct stat of;
    if (!record) return 0;
    if ((fcntl(fd, F_GETFL) & O_APPEND) && fstat(fd, &of) == 0) return of.st_size;
    return lseek(fd, 0, SEEK_CUR);
}

/* What another call than a write has put there. */
static void note_content(int fd, off_t where, size_t n) {
    char path[PATH_MAX];
    char *data = malloc(n ? n : 1);
    int again = path_of(fd, path) ? open(path, O_RDONLY) : -1;
    ssize_t got = again >= 0 ? pread(again, data, n, where) : -1;
    if (got > 0) note('w', fd, where, NULL, NULL, data, (size_t)got);
    if (again >= 0) close(again);
    free(data);
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
    if (how == 'l' && n == at) usleep(300000);
    errno = EIO;
    return n == at ? FAIL : GO_ON;
}

#define REAL(type, name, ...) \
    static type (*real)(__VA_ARGS__); \
    if (!real) real = (type (*)(__VA_ARGS__))dlsym(RTLD_NEXT, name)

ssize_t write(int fd, const void *buf, size_t n) {
    REAL(ssize_t, "write", int, const void *, size_t);
    if (record && fd == 1) return NOTED(ssize_t, real(fd, buf, n), note('o', -1, 0, NULL, NULL, buf, (size_t)done));
    if (!fd_below(fd)) return real(fd, buf, n);
    switch (fate(1, 1)) {
        case FAIL: return -1;
        case HALF: return real(fd, buf, n > 1 ? n / 2 : n);
    }
    off_t where = place(fd);
    return NOTED(ssize_t, real(fd, buf, n), note('w', fd, where, NULL, NULL, buf, (size_t)done));
}

ssize_t writev(int fd, const struct iovec *v, int n) {
    REAL(ssize_t, "writev", int, const struct iovec *, int);
    if (!fd_below(fd)) return real(fd, v, n);
    if (fate(1, 0) == FAIL) return -1;
    off_t where = place(fd);
    return NOTED(ssize_t, real(fd, v, n), note_content(fd, where, (size_t)done));
}

#define PWRITE(name) \
    ssize_t name(int fd, const void *buf, size_t n, off_t where) { \
        REAL(ssize_t, #name, int, const void *, size_t, off_t); \
        if (!fd_below(fd)) return real(fd, buf, n, where); \
        switch (fate(1, 1)) { \
            case FAIL: return -1; \
            case HALF: return real(fd, buf, n > 1 ? n / 2 : n, where); \
        } \
        return NOTED(ssize_t, real(fd, buf, n, where), note('w', fd, where, NULL, NULL, buf, (size_t)done)); \
    }
PWRITE(pwrite)
PWRITE(pwrite64)

#define OF_FD(name, room) \
    int name(int fd) { \
        REAL(int, #name, int); \
        char path[PATH_MAX]; \
        if (!path_of(fd, path) || !below(path)) return real(fd); \
        if (fate(room, 0) == FAIL) return -1; \
        struct stat of; \
        int folder = fstat(fd, &of) == 0 && S_ISDIR(of.st_mode); \
        return NOTED(int, real(fd), note(folder ? 'f' : 's', fd, 0, path, NULL, NULL, 0)); \
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
        if (!fd_below(fd)) return real(fd, len); \
        if (fate(0, 0) == FAIL) return -1; \
        return NOTED(int, real(fd, len), note('t', fd, len, NULL, NULL, NULL, 0)); \
    }
TRUNCATE(ftruncate)
TRUNCATE(ftruncate64)

ssize_t copy_file_range(int in, off64_t *a, int out, off64_t *b, size_t n, unsigned flags) {
    REAL(ssize_t, "copy_file_range", int, off64_t *, int, off64_t *, size_t, unsigned);
    if (!fd_below(out)) return real(in, a, out, b, n, flags);
    if (fate(1, 0) == FAIL) return -1;
    off_t where = b ? *b : place(out);
    return NOTED(ssize_t, real(in, a, out, b, n, flags), note_content(out, where, (size_t)done));
}

int rename(const char *from, const char *to) {
    REAL(int, "rename", const char *, const char *);
    if (!below(to)) return real(from, to);
    if (fate(1, 0) == FAIL) return -1;
    return NOTED(int, real(from, to), note('r', -1, 0, from, to, NULL, 0));
}

int unlink(const char *path) {
    REAL(int, "unlink", const char *);
    if (!below(path)) return real(path);
    if (fate(0, 0) == FAIL) return -1;
    return NOTED(int, real(path), note('u', -1, 0, path, NULL, NULL, 0));
}

int rmdir(const char *path) {
    REAL(int, "rmdir", const char *);
    if (!below(path)) return real(path);
    if (fate(0, 0) == FAIL) return -1;
    return NOTED(int, real(path), note('x', -1, 0, path, NULL, NULL, 0));
}

/* As whole folders are removed. */
int unlinkat(int dir, const char *name, int flags) {
    REAL(int, "unlinkat", int, const char *, int);
    char path[PATH_MAX + 300];
    if (name[0] == '/' || dir == AT_FDCWD) snprintf(path, sizeof path, "%s", name);
    else {
        if (!path_of(dir, path)) return real(dir, name, flags);
        size_t n = strlen(path);
        snprintf(path + n, sizeof path - n, "/%s", name);
    }
    if (!below(path)) return real(dir, name, flags);
    if (fate(0, 0) == FAIL) return -1;
    return NOTED(int, real(dir, name, flags), note(flags & AT_REMOVEDIR ? 'x' : 'u', -1, 0, path, NULL, NULL, 0));
}

int mkdir(const char *path, mode_t mode) {
    REAL(int, "mkdir", const char *, mode_t);
    if (!below(path)) return real(path, mode);
    if (fate(1, 0) == FAIL) return -1;
    return NOTED(int, real(path, mode), note('k', -1, 0, path, NULL, NULL, 0));
}

static int absent(const char *path) {
    struct stat of;
    return lstat(path, &of) != 0;
}

/* A file that is made, or emptied in opening. */
static void note_open(int fd, const char *path, int flags, int new) {
    if (new) note('c', fd, 0, path, NULL, NULL, 0);
    else if (flags & O_TRUNC) note('t', fd, 0, NULL, NULL, NULL, 0);
}

/* Reading is an operation too; only what makes a file needs room. */
#define OPEN(name) \
    int name(const char *path, int flags, ...) { \
        REAL(int, #name, const char *, int, ...); \
        va_list more; \
        va_start(more, flags); \
        mode_t mode = va_arg(more, mode_t); \
        va_end(more); \
        if (!below(path)) return real(path, flags, mode); \
        if (fate((flags & O_CREAT) != 0, 0) == FAIL) return -1; \
        int new = record && (flags & O_CREAT) && absent(path); \
        return NOTED(int, real(path, flags, mode), note_open(done, path, flags, new)); \
    }
OPEN(open)
OPEN(open64)

int openat64(int dir, const char *path, int flags, ...) {
    REAL(int, "openat64", int, const char *, int, ...);
    va_list more;
    va_start(more, flags);
    mode_t mode = va_arg(more, mode_t);
    va_end(more);
    if (!below(path)) return real(dir, path, flags, mode);
    if (fate((flags & O_CREAT) != 0, 0) == FAIL) return -1;
    int new = record && (flags & O_CREAT) && absent(path);
    return NOTED(int, real(dir, path, flags, mode), note_open(done, path, flags, new));
}
