# shellcheck shell=bash
# The exact versions of what the APK is made with; to be sourced. What the shell is compiled against (Kotlin, JNA, SDK
# levels) stands in android/pom.xml and is read from there.

r8_version=9.5.28
unidbg_version=0.9.8
llvm_version=19
maven_dependency_plugin=org.apache.maven.plugins:maven-dependency-plugin:3.8.1

from_pom() { sed -n "s|^ *<$1>\(.*\)</$1>.*|\1|p" "$root/android/pom.xml" | head -n 1; }
kotlin_version=$(from_pom kotlin.version)
jna_version=$(from_pom jna.version)
platform_version=$(from_pom platform.version)
min_sdk=$(from_pom min.sdk)
target_sdk=$(from_pom target.sdk)
