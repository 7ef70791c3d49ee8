/* What SQLite asks of Android's C library on 64-bit machines (LP64), and no more: the headers of a real NDK are not to be
   had from a package registry. Written from memory of the platform's ABI, so every size, offset and number in it is
   compared with the libc crate's Android definitions (gates/headers). native/toolchain gives it its standard names. */
#ifndef SHIMWRIGHT_BIONIC_H
#define SHIMWRIGHT_BIONIC_H

#include <stdarg.h>
#include <stddef.h>

/* stdint.h, inttypes.h */
typedef signed char int8_t;
typedef unsigned char uint8_t;
typedef short int16_t;
typedef unsigned short uint16_t;
typedef int int32_t;
typedef unsigned int uint32_t;
typedef long int64_t;
typedef unsigned long uint64_t;
typedef long intptr_t;
typedef unsigned long uintptr_t;
#define UINT64_C(n) n##UL

/* sys/types.h */
typedef long ssize_t;
typedef long off_t;
typedef unsigned int mode_t;
typedef unsigned int uid_t;
typedef unsigned int gid_t;
typedef int pid_t;
typedef unsigned long dev_t;
typedef unsigned long ino_t;
typedef unsigned int nlink_t;
typedef long time_t;
typedef long suseconds_t;

/* assert.h: SQLite asserts nothing in a release */
#define assert(condition) ((void)0)

/* errno.h */
int *__errno(void) __attribute__((const));
#define errno (*__errno())
#define EPERM 1
#define ENOENT 2
#define EINTR 4
#define EIO 5
#define ENXIO 6
#define EAGAIN 11
#define EACCES 13
#define EBUSY 16
#define EEXIST 17
#define EISDIR 21
#define ENOSPC 28
#define ERANGE 34
#define ENOLCK 37
#define ETIMEDOUT 110

/* fcntl.h */
#define O_RDONLY 0
#define O_RDWR 02
#define O_CREAT 0100
#define O_EXCL 0200
#if defined(__aarch64__)
#define O_NOFOLLOW 0100000
#else
#define O_NOFOLLOW 0400000
#endif
#define O_CLOEXEC 02000000
#define F_GETFD 1
#define F_SETFD 2
#define F_GETLK 5
#define F_SETLK 6
#define F_RDLCK 0
#define F_WRLCK 1
#define F_UNLCK 2
#define FD_CLOEXEC 1
struct flock {
  short l_type;
  short l_whence;
  off_t l_start;
  off_t l_len;
  pid_t l_pid;
};
int fcntl(int, int, ...);
int open(const char *, int, ...);

/* math.h */
#define INFINITY __builtin_inff()
#define isnan(x) __builtin_isnan(x)
double fabs(double);
double log(double);

/* pthread.h */
typedef long pthread_t;
typedef struct {
  int32_t __private[10];
} pthread_mutex_t;
typedef long pthread_mutexattr_t;
typedef struct pthread_attr pthread_attr_t;
#define PTHREAD_MUTEX_INITIALIZER {{0}}
#define PTHREAD_MUTEX_RECURSIVE 1
int pthread_create(pthread_t *, const pthread_attr_t *, void *(*)(void *), void *);
int pthread_join(pthread_t, void **);
int pthread_mutex_init(pthread_mutex_t *, const pthread_mutexattr_t *);
int pthread_mutex_destroy(pthread_mutex_t *);
int pthread_mutex_lock(pthread_mutex_t *);
int pthread_mutex_trylock(pthread_mutex_t *);
int pthread_mutex_unlock(pthread_mutex_t *);
int pthread_mutexattr_init(pthread_mutexattr_t *);
int pthread_mutexattr_destroy(pthread_mutexattr_t *);
int pthread_mutexattr_settype(pthread_mutexattr_t *, int);

/* stdio.h */
#define FILENAME_MAX 4096
#define SEEK_SET 0

/* stdlib.h */
void *malloc(size_t);
void *realloc(void *, size_t);
void free(void *);
char *getenv(const char *);
void qsort(void *, size_t, size_t, int (*)(const void *, const void *));

/* string.h */
void *memchr(const void *, int, size_t);
int memcmp(const void *, const void *, size_t);
void *memcpy(void *, const void *, size_t);
void *memmove(void *, const void *, size_t);
void *memset(void *, int, size_t);
char *strchr(const char *, int);
int strcmp(const char *, const char *);
size_t strcspn(const char *, const char *);
size_t strlen(const char *);
int strncmp(const char *, const char *, size_t);
char *strrchr(const char *, int);
size_t strspn(const char *, const char *);

/* time.h, sys/time.h */
struct timespec {
  time_t tv_sec;
  long tv_nsec;
};
struct timeval {
  time_t tv_sec;
  suseconds_t tv_usec;
};
struct tm {
  int tm_sec;
  int tm_min;
  int tm_hour;
  int tm_mday;
  int tm_mon;
  int tm_year;
  int tm_wday;
  int tm_yday;
  int tm_isdst;
  long tm_gmtoff;
  const char *tm_zone;
};
time_t time(time_t *);
struct tm *localtime_r(const time_t *, struct tm *);
int gettimeofday(struct timeval *, void *);
int nanosleep(const struct timespec *, struct timespec *);
int utimes(const char *, const struct timeval *);

/* sys/stat.h */
#if defined(__aarch64__)
struct stat {
  dev_t st_dev;
  ino_t st_ino;
  mode_t st_mode;
  nlink_t st_nlink;
  uid_t st_uid;
  gid_t st_gid;
  dev_t st_rdev;
  unsigned long __pad1;
  off_t st_size;
  int st_blksize;
  int __pad2;
  long st_blocks;
  struct timespec st_atim;
  struct timespec st_mtim;
  struct timespec st_ctim;
  unsigned int __unused4;
  unsigned int __unused5;
};
#else
struct stat {
  dev_t st_dev;
  ino_t st_ino;
  unsigned long st_nlink;
  mode_t st_mode;
  uid_t st_uid;
  gid_t st_gid;
  unsigned int __pad0;
  dev_t st_rdev;
  off_t st_size;
  long st_blksize;
  long st_blocks;
  struct timespec st_atim;
  struct timespec st_mtim;
  struct timespec st_ctim;
  long __pad3[3];
};
#endif
#define S_IFMT 0170000
#define S_IFDIR 0040000
#define S_IFREG 0100000
#define S_IFLNK 0120000
#define S_ISDIR(mode) (((mode) & S_IFMT) == S_IFDIR)
#define S_ISREG(mode) (((mode) & S_IFMT) == S_IFREG)
#define S_ISLNK(mode) (((mode) & S_IFMT) == S_IFLNK)
int stat(const char *, struct stat *);
int lstat(const char *, struct stat *);
int fstat(int, struct stat *);
int fchmod(int, mode_t);
int mkdir(const char *, mode_t);

/* sys/mman.h */
#define PROT_READ 1
#define PROT_WRITE 2
#define MAP_SHARED 1
#define MAP_FAILED ((void *)-1)
#define MREMAP_MAYMOVE 1
void *mmap(void *, size_t, int, int, int, off_t);
int munmap(void *, size_t);
void *mremap(void *, size_t, size_t, int, ...);

/* unistd.h */
#define F_OK 0
#define W_OK 2
#define R_OK 4
#define _SC_PAGESIZE 0x27
int access(const char *, int);
int close(int);
int fchown(int, uid_t, gid_t);
int fsync(int);
int ftruncate(int, off_t);
char *getcwd(char *, size_t);
uid_t geteuid(void);
pid_t getpid(void);
ssize_t pread(int, void *, size_t, off_t);
ssize_t pwrite(int, const void *, size_t, off_t);
ssize_t read(int, void *, size_t);
ssize_t readlink(const char *, char *, size_t);
int rmdir(const char *);
long sysconf(int);
int unlink(const char *);
ssize_t write(int, const void *, size_t);

/* dlfcn.h */
#define RTLD_NOW 2
#define RTLD_GLOBAL 0x100
int dlclose(void *);
char *dlerror(void);
void *dlopen(const char *, int);
void *dlsym(void *, const char *);

#endif
