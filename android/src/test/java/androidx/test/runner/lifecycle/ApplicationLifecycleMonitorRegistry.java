package androidx.test.runner.lifecycle;

/** Stands in for the class of that name, which Maven Central does not carry; Robolectric calls it. */
public final class ApplicationLifecycleMonitorRegistry {
  private static ApplicationLifecycleMonitor instance;

  private ApplicationLifecycleMonitorRegistry() {}

  public static ApplicationLifecycleMonitor getInstance() {
    if (instance == null) throw new IllegalStateException("no monitor registered");
    return instance;
  }

  public static void registerInstance(ApplicationLifecycleMonitor monitor) {
    instance = monitor;
  }
}
