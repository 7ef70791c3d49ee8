package androidx.test.internal.runner.lifecycle;

import android.app.Application;
import androidx.test.runner.lifecycle.ApplicationLifecycleMonitor;
import androidx.test.runner.lifecycle.ApplicationStage;

/** Stands in for the class of that name, which Maven Central does not carry; Robolectric calls it. */
public final class ApplicationLifecycleMonitorImpl implements ApplicationLifecycleMonitor {
  public void signalLifecycleChange(Application application, ApplicationStage stage) {}
}
