/* The part of an NDK's crtbegin_so.o that a library needs: its own handle, and what thread-locals and atexit left with
   the C library under it is run when the library goes. */
__attribute__((visibility("hidden"))) void *__dso_handle = &__dso_handle;

void __cxa_finalize(void *);

__attribute__((destructor)) static void finalize(void) { __cxa_finalize(&__dso_handle); }
