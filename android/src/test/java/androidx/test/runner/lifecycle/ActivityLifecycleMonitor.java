package androidx.test.runner.lifecycle;

import android.app.Activity;
import java.util.Collection;

/** Stands in for the class of that name, which Maven Central does not carry; Robolectric calls it. */
public interface ActivityLifecycleMonitor {
  void addLifecycleCallback(ActivityLifecycleCallback callback);

  void removeLifecycleCallback(ActivityLifecycleCallback callback);

  Stage getLifecycleStageOf(Activity activity);

  Collection<Activity> getActivitiesInStage(Stage stage);
}
