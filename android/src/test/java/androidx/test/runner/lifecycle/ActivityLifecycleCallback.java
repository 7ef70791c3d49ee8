package androidx.test.runner.lifecycle;

import android.app.Activity;

/** Stands in for the class of that name, which Maven Central does not carry; Robolectric calls it. */
public interface ActivityLifecycleCallback {
  void onActivityLifecycleChanged(Activity activity, Stage stage);
}
