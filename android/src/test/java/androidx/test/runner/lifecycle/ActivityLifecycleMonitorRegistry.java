package androidx.test.runner.lifecycle;

/** Stands in for the class of that name, which Maven Central does not carry; Robolectric calls it. */
public final class ActivityLifecycleMonitorRegistry {
  private static ActivityLifecycleMonitor instance;

  private ActivityLifecycleMonitorRegistry() {}

  public static ActivityLifecycleMonitor getInstance() {
    if (instance == null) throw new IllegalStateException("no monitor registered");
    return instance;
  }

  public static void registerInstance(ActivityLifecycleMonitor monitor) {
    instance = monitor;
  }
}
