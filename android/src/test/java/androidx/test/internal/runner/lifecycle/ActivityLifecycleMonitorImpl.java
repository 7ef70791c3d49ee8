package androidx.test.internal.runner.lifecycle;

import android.app.Activity;
import androidx.test.runner.lifecycle.ActivityLifecycleCallback;
import androidx.test.runner.lifecycle.ActivityLifecycleMonitor;
import androidx.test.runner.lifecycle.Stage;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.WeakHashMap;

/** Stands in for the class of that name, which Maven Central does not carry; Robolectric calls it. */
public final class ActivityLifecycleMonitorImpl implements ActivityLifecycleMonitor {
  private final List<ActivityLifecycleCallback> callbacks = new ArrayList<>();
  private final Map<Activity, Stage> stages = new WeakHashMap<>();

  @Override
  public synchronized void addLifecycleCallback(ActivityLifecycleCallback callback) {
    callbacks.add(callback);
  }

  @Override
  public synchronized void removeLifecycleCallback(ActivityLifecycleCallback callback) {
    callbacks.remove(callback);
  }

  @Override
  public synchronized Stage getLifecycleStageOf(Activity activity) {
    return stages.getOrDefault(activity, Stage.PRE_ON_CREATE);
  }

  @Override
  public synchronized Collection<Activity> getActivitiesInStage(Stage stage) {
    List<Activity> found = new ArrayList<>();
    stages.forEach((activity, at) -> { if (at == stage) found.add(activity); });
    return found;
  }

  public synchronized void signalLifecycleChange(Stage stage, Activity activity) {
    stages.put(activity, stage);
    for (ActivityLifecycleCallback callback : new ArrayList<>(callbacks)) {
      callback.onActivityLifecycleChanged(activity, stage);
    }
  }
}
