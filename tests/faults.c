/* Fails one call that writes, for tests/faults: preloaded into a process, it counts the calls that
   write, shorten or flush a file whose path names a workshop, and makes call FAULT_CALL fail in the
   way that FAULT names: enospc, eio, short (half the bytes, then ENOSPC), fsync (EIO of a flush; other
   calls are not counted) or die (half the bytes, then the process ends). It fails once; the file
   FAULT_MARKER is made then. */
#define _GNU_SOURCE
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static long calls;

static int is_workshop(int fd) {
  char link[64], path[4096];
  snprintf(link, sizeof link, "/proc/self/fd/%d", fd);
  ssize_t n = readlink(link, path, sizeof path - 1);
  if (n < 0) return 0;
  path[n] = 0;
  return strstr(path, ".workshop") != NULL;
}

/* Whether this call is the one that fails; a flush counts only where flushes fail. */
static int fails(int fd, int flush) {
  const char *fault = getenv("FAULT"), *call = getenv("FAULT_CALL");
  if (!fault || !call || !is_workshop(fd)) return 0;
  if ((strcmp(fault, "fsync") == 0) != flush) return 0;
  if (++calls != atol(call)) return 0;
  const char *marker = getenv("FAULT_MARKER");
  int made = open(marker ? marker : "/dev/null", O_CREAT | O_WRONLY, 0600);
  if (made >= 0) close(made);
  return 1;
}

static int is(const char *name) { return strcmp(getenv("FAULT"), name) == 0; }

#define REAL(name) static __typeof__(name) *real; if (!real) real = (__typeof__(name) *)dlsym(RTLD_NEXT, #name)

static ssize_t failed_write(ssize_t written) {
  if (is("die")) _exit(9);
  if (is("short") && written > 0) return written;
  errno = is("eio") ? EIO : ENOSPC;
  return -1;
}

#define PWRITE(name, offset_t)                                                          \
  ssize_t name(int fd, const void *bytes, size_t n, offset_t at) {                      \
    REAL(name);                                                                         \
    if (!fails(fd, 0)) return real(fd, bytes, n, at);                                   \
    ssize_t half = is("short") || is("die") ? real(fd, bytes, n / 2, at) : 0;           \
    return failed_write(half);                                                          \
  }
PWRITE(pwrite, off_t)
PWRITE(pwrite64, off64_t)

ssize_t write(int fd, const void *bytes, size_t n) {
  REAL(write);
  if (!fails(fd, 0)) return real(fd, bytes, n);
  ssize_t half = is("short") || is("die") ? real(fd, bytes, n / 2) : 0;
  return failed_write(half);
}

#define FAILING(name, args, call)                                                       \
  int name args {                                                                       \
    REAL(name);                                                                         \
    if (!fails(fd, 0)) return real call;                                                \
    return (int)failed_write(0);                                                        \
  }
FAILING(ftruncate, (int fd, off_t length), (fd, length))
FAILING(ftruncate64, (int fd, off64_t length), (fd, length))
FAILING(posix_fallocate, (int fd, off_t at, off_t length), (fd, at, length))

#define FLUSH(name)                                                                     \
  int name(int fd) {                                                                    \
    REAL(name);                                                                         \
    if (!fails(fd, 1)) return real(fd);                                                 \
    errno = EIO;                                                                        \
    return -1;                                                                          \
  }
FLUSH(fsync)
FLUSH(fdatasync)
